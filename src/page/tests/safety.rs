//! Who may come in, and what leaves.

use super::super::guard::key_name;
use super::*;

/// The status of a request with these headers at this computer's door.
#[track_caller]
fn check(method: &str, host: &str, headers: &[(&str, &str)], wanted: u16) {
    let studio = Studio::new();
    let path = if method == "GET" {
        "/"
    } else {
        "/studio/phone"
    };
    let reply = studio.ask(asked(method, host, path, headers, ""));
    assert_eq!(reply.status.as_u16(), wanted, "{method} {host} {headers:?}");
}

/// A name bent to this address (DNS rebinding) sends itself as `Host`.
#[test]
fn the_page_answers_only_under_its_own_names() {
    check("GET", HOST, &[], 200);
    for host in [
        "evil.test:1737",
        "127.0.0.1",
        "127.0.0.1:80",
        "localhost.evil.test:1737",
        "",
    ] {
        check("GET", host, &[], 403);
    }
    check("GET", HOST, &[("host", "evil.test")], 403);
}

/// Fetch Standard: a browser sends `Origin` with every form, and `Sec-Fetch-Site` where the address is trustworthy.
#[test]
fn only_pages_of_this_address_may_write() {
    let own = ("origin", "http://127.0.0.1:1737");
    check("POST", HOST, &[own], 303);
    check("POST", HOST, &[own, ("sec-fetch-site", "same-origin")], 303);
    check("POST", HOST, &[("sec-fetch-site", "same-origin")], 303);
    check("POST", HOST, &[], 403);
    check("POST", HOST, &[own, ("sec-fetch-site", "cross-site")], 403);
    for origin in [
        "null",
        "http://evil.test",
        "https://127.0.0.1:1737",
        "http://127.0.0.1:1738",
        "",
    ] {
        check("POST", HOST, &[("origin", origin)], 403);
        check(
            "POST",
            HOST,
            &[("origin", origin), ("sec-fetch-site", "same-origin")],
            403,
        );
    }
    for site in ["none", "same-site", "cross-site"] {
        check("POST", HOST, &[("sec-fetch-site", site)], 403);
    }
}

#[test]
fn a_phone_comes_in_by_a_link_that_works_once() {
    let studio = Studio::new();
    let get = |path: &str, key: &str| {
        // Another program's key, or an old one, keeps nobody out.
        let name = key_name(PHONES);
        let cookie = format!("other=1; filemot-key-1={key}; {name}=old; {name}={key}");
        reply(
            &studio.phones,
            asked("GET", PHONES, path, &[("cookie", &cookie)], ""),
        )
    };
    let knock = |token: &str| {
        let origin = format!("http://{PHONES}");
        let path = format!("/let-in/{token}");
        reply(
            &studio.phones,
            asked("POST", PHONES, &path, &[("origin", &origin)], ""),
        )
    };
    for key in ["", "0", "let-me-in"] {
        let told = get("/", key);
        assert_eq!(told.status, StatusCode::FORBIDDEN);
        assert!(
            told.text().contains("link that works once"),
            "{}",
            told.text()
        );
    }
    let token = studio.house.share.new_link().expect("a link");
    // Who only looks, as programs that preview links do, uses nothing up.
    assert_eq!(get(&format!("/let-in/{token}"), "").status, StatusCode::OK);
    let come = knock(&token);
    assert_eq!(come.status, StatusCode::SEE_OTHER);
    let cookie = come.header("set-cookie");
    for part in ["HttpOnly", "SameSite=Strict", "Path=/"] {
        assert!(cookie.contains(part), "{cookie}");
    }
    let key = cookie.split(['=', ';']).nth(1).expect("the key").to_owned();
    assert!(!key.contains(&token));
    assert_eq!(get("/", &key).status, StatusCode::OK);
    assert_eq!(get("/", &token).status, StatusCode::FORBIDDEN);
    // Who was let in lets nobody else in.
    studio.house.share.new_link().expect("another link");
    let seen = get("/studio", &key).text();
    assert!(
        !seen.contains("/let-in/") && !seen.contains("/studio/phone"),
        "{seen}"
    );
    let cookie = format!("{}={key}", key_name(PHONES));
    let headers = [
        ("cookie", cookie.as_str()),
        ("origin", "http://192.168.7.20:1737"),
    ];
    let more = reply(
        &studio.phones,
        asked("POST", PHONES, "/studio/phone", &headers, ""),
    );
    assert_eq!(more.status, StatusCode::FORBIDDEN);
    assert_eq!(knock(&token).status, StatusCode::FORBIDDEN);
    assert_eq!(
        get(&format!("/let-in/{token}"), "").status,
        StatusCode::FORBIDDEN
    );
    assert_eq!(knock("").status, StatusCode::NOT_FOUND);
}

#[test]
fn where_the_journal_lies_is_not_told() {
    let studio = Studio::new();
    let place = studio.folder.path().display().to_string();
    let told = studio.send_file("/studio/import", "export", "j.json", vec![0xff, 0xfe, 0]);
    assert_eq!(told.status, StatusCode::BAD_REQUEST);
    assert!(
        told.text().contains("j.json: it is not a text file"),
        "{}",
        told.text()
    );
    std::fs::write(studio.folder.path().join("journal.sqlite"), "nothing").expect("written");
    let told = studio.get("/").text();
    assert!(
        told.contains("journal.sqlite in its folder is not a journal"),
        "{told}"
    );
    assert!(!told.contains(&place));
    std::fs::remove_dir_all(studio.folder.path()).expect("moved away");
    let told = studio.get("/");
    assert_eq!(told.status, StatusCode::CONFLICT);
    assert!(told.text().contains("not where it was"), "{}", told.text());
}

#[test]
fn every_answer_keeps_the_page_to_itself() {
    let studio = Studio::new();
    for path in [
        "/",
        "/pot",
        "/line",
        "/desk",
        "/market",
        "/studio",
        "/nowhere",
        "/files/page.css",
    ] {
        let reply = studio.get(path);
        let policy = reply.header("content-security-policy");
        assert!(policy.starts_with("default-src 'none'"), "{path}: {policy}");
        assert!(!policy.contains("unsafe") && policy.contains("frame-ancestors 'none'"));
        assert_eq!(reply.header("x-content-type-options"), "nosniff");
        let text = reply.text();
        // The policy would stop them silently: nothing on a page may need them.
        for barred in ["<style", " style=", "onclick", "javascript:", "<script>"] {
            assert!(!text.contains(barred), "{path} holds {barred}");
        }
        let elsewhere = text
            .replace("http://www.w3.org/", "")
            .replace(&format!("http://{PHONES}"), "");
        assert!(
            !elsewhere.contains("http://") && !elsewhere.contains("https://"),
            "{path}"
        );
    }
}

#[test]
fn nothing_but_the_pages_is_handed_out() {
    let studio = Studio::new();
    for path in [
        "/journal.sqlite",
        "/files/../journal.sqlite",
        "/files/..%2Fjournal.sqlite",
        "/files/%2Fetc%2Fpasswd",
        "/picture/1/..%2F..%2Fjournal.sqlite",
        "/picture/1/small",
        "/picture/-1/small",
        "/piece/..%2F..%2Fjournal.sqlite",
    ] {
        let reply = studio.get(path);
        assert_eq!(reply.status, StatusCode::NOT_FOUND, "{path}");
        assert!(!reply.text().contains("SQLite format"), "{path}");
    }
    let odd = studio.get("/picture/x/small");
    assert_eq!(odd.status, StatusCode::BAD_REQUEST);
}

/// The photo's file holds EXIF with a camera's name; the picture made of it holds the frames of JPEG alone (ITU-T T.81).
#[test]
fn pictures_hold_nothing_of_the_file_but_what_it_shows() {
    let studio = Studio::new();
    studio.photos(&["LB001-dry.jpg"]);
    let photo = studio.journal().photos().expect("photos").remove(0);
    let (_, file) = crate::intake::original(&studio.journal(), &photo).expect("its file");
    let holds = |bytes: &[u8], what: &[u8]| bytes.windows(what.len()).any(|it| it == what);
    assert!(holds(&file, b"Exif"));
    for look in ["small", "piece", "whole"] {
        let reply = studio.get(&format!("/picture/1/{look}")).good();
        assert_eq!(reply.header("content-type"), "image/jpeg");
        for barred in [b"Exif".as_slice(), b"http://ns.adobe.com", b"LB001-dry"] {
            assert!(!holds(&reply.bytes, barred), "{look}");
        }
        let tag = reply.header("etag").to_owned();
        let again = [("if-none-match", tag.as_str())];
        let again = studio.ask(asked(
            "GET",
            HOST,
            &format!("/picture/1/{look}"),
            &again,
            "",
        ));
        assert_eq!(
            (again.status, again.bytes.len()),
            (StatusCode::NOT_MODIFIED, 0)
        );
    }
    // Kept pictures may go at any time, and neither mind nor are minded.
    assert!(studio.journal().check().expect("looked over").is_empty());
    std::fs::remove_dir_all(studio.folder.path().join("looks")).expect("kept pictures");
    studio.get("/picture/1/small").good();
}
