//! The studio's own values, words, baths, sheets and backups.

use super::*;

const SHEET: &str =
    "piece,fibre,mordant,plants\nLB001,silk,alum 12%,walnut\nLB002,silk,iron,birch\n";

#[track_caller]
pub(super) fn holds(reply: &Reply, all: &[&str]) {
    let text = reply.text();
    for words in all {
        assert!(text.contains(words), "no “{words}” in {text}");
    }
}

/// The edition that the values were looked at in.
fn edition(studio: &Studio) -> String {
    let page = studio.get("/studio/values").good().text();
    let rest = page
        .split("name=\"based_on\" value=\"")
        .nth(1)
        .expect("an edition");
    rest.split('"').next().expect("its end").to_owned()
}

#[test]
fn values_are_set_as_the_command_sets_them() {
    let studio = Studio::new();
    let save = |form: &str| {
        studio.send(
            "/studio/values",
            &format!("based_on={}&{form}", edition(&studio)),
        )
    };
    let saved = save(
        "paper=95.2%2C0.4%2C-1.1&ink=&unit=F&soak-hours=12&mordant=Alum&strength=12.5&mordant=&strength=",
    );
    assert_eq!(
        saved.header("location"),
        "/studio/values?saved=paper",
        "{}",
        saved.text()
    );
    let kept = studio.journal().studio().expect("values");
    let wanted = [
        ("paper", "95.2,0.4,-1.1"),
        ("soak-hours", "12"),
        ("unit", "F"),
        ("wof alum", "12.5"),
    ];
    let wanted = wanted
        .map(|(name, value)| (name.to_owned(), value.to_owned()))
        .into();
    assert_eq!(kept, wanted);
    holds(
        &studio.get("/studio/values?saved=paper").good(),
        &[
            "Saved.",
            "until they are measured again",
            "value=\"95.2,0.4,-1.1\"",
        ],
    );
    holds(
        &studio.get("/studio").good(),
        &["paper 95.2,0.4,-1.1", "ink assumed at 25,0,0", "°F"],
    );
    for (form, why) in [
        ("paper=95.2", "is not a colour"),
        ("paper=20,0,0", "cannot be a tag"),
        ("soak-hours=soon", "cannot be soak-hours"),
        ("mordant=alum&strength=90", "far more than any usual recipe"),
        ("mordant=chrome&strength=2", "not for a home studio"),
        ("mordant=&strength=2", "Which mordant is meant"),
    ] {
        let told = save(form);
        assert_eq!(told.status, StatusCode::BAD_REQUEST, "{form}");
        holds(&told, &["Nothing is saved yet", why]);
    }
    assert_eq!(studio.journal().studio().expect("values"), kept);
    save("paper=&unit=C");
    let kept = studio.journal().studio().expect("values");
    assert!(
        !kept.contains_key("paper") && !kept.contains_key("unit"),
        "{kept:?}"
    );
}

#[test]
fn of_two_who_set_values_the_later_is_told() {
    let studio = Studio::new();
    let old = edition(&studio);
    studio.journal().set("paper", Some("94,0,0")).expect("set");
    let told = studio.send(
        "/studio/values",
        &format!("based_on={old}&paper=96%2C1%2C1"),
    );
    assert_eq!(told.status, StatusCode::CONFLICT);
    holds(
        &told,
        &["Somebody was quicker", "paper 94,0,0", "paper 96,1,1"],
    );
    assert_eq!(
        studio.journal().studio().expect("values")["paper"],
        "94,0,0"
    );
}

#[test]
fn colours_are_named_and_dropped() {
    let studio = Studio::new();
    let named = studio
        .send("/studio/words", "name=Old+Gold&middle=70%2C5%2C60&within=4")
        .good();
    holds(
        &named,
        &[
            "“old gold” is named",
            "<strong>old gold</strong>",
            "within 4",
        ],
    );
    let again = studio
        .send("/studio/words", "name=old+gold&middle=60%2C5%2C60&within=4")
        .good();
    holds(&again, &["Until now it meant L* 70.0"]);
    let near = studio
        .send("/studio/words", "name=brass&middle=62%2C5%2C60&within=3")
        .good();
    holds(&near, &["overlaps with “old gold”"]);
    for (form, why) in [
        (
            "name=rust&middle=nowhere&within=5",
            "neither a piece of the journal nor a colour",
        ),
        ("name=rust&middle=45%2C32%2C40&within=far", "not how far"),
        ("name=rust&middle=45%2C32%2C40&within=99", "must be"),
        ("name=dry&middle=45%2C32%2C40&within=5", ""),
    ] {
        let told = studio.send("/studio/words", form);
        assert!(
            why.is_empty() || told.status == StatusCode::BAD_REQUEST,
            "{form}"
        );
        holds(&told, &[why]);
    }
    let gone = studio.send("/studio/words/drop", "name=old+gold");
    holds(
        &studio.get(gone.header("location")).good(),
        &["“old gold” is dropped."],
    );
    assert!(
        !studio
            .journal()
            .studio()
            .expect("values")
            .contains_key("word old gold")
    );
    assert_eq!(
        studio.send("/studio/words/drop", "name=nothing").status,
        StatusCode::BAD_REQUEST
    );
}

/// By hand: 500 g in 10 L are 50 g/L, 600 g in 10 L are 60; from 1 to 20 May are 19 days.
#[test]
fn a_sheet_lands_entirely_or_not_at_all() {
    let studio = Studio::new();
    let send = |text: &str| {
        studio.send_file(
            "/studio/sheet",
            "sheet",
            "may.csv",
            text.as_bytes().to_vec(),
        )
    };
    holds(
        &send(SHEET).good(),
        &[
            "2 new pieces, 0 changes, 0 unchanged.",
            "Please mind",
            "gloves",
        ],
    );
    holds(
        &send(&SHEET.replace("walnut", "oak")).good(),
        &["LB001: plants was walnut, is now oak"],
    );
    let pieces = studio.journal().pieces().expect("pieces");
    let bad = send("piece,made\nLB003,2026-05-01\nLB004,yesterday\nLB005,01/02/2026\n");
    assert_eq!(bad.status, StatusCode::BAD_REQUEST);
    holds(
        &bad,
        &[
            "The sheet may.csv was not taken",
            "<li>Row 3, column made:",
            "<li>Row 4, column made:",
        ],
    );
    assert_eq!(studio.journal().pieces().expect("pieces"), pieces);
    holds(
        &studio.send_file("/studio/sheet", "sheet", "", Vec::new()),
        &["came no file"],
    );
    holds(
        &studio.send_file("/studio/sheet", "sheet", "empty.csv", Vec::new()),
        &["is empty"],
    );
    assert!(!studio.folder.path().join("arriving").exists());
    for name in ["example", "blank"] {
        let sheet = studio.get(&format!("/studio/{name}.csv")).good();
        assert!(sheet.text().starts_with("piece,"), "{}", sheet.text());
    }
}

#[test]
fn a_plan_is_made_and_nothing_stored() {
    let studio = Studio::new();
    let sheet = "piece,fibre,dry_g,mordant\nNEW1,silk,50,alum 12%\n";
    let pdf = studio
        .send_file(
            "/studio/plan",
            "sheet",
            "next.csv",
            sheet.as_bytes().to_vec(),
        )
        .good();
    assert!(pdf.bytes.starts_with(b"%PDF-1.") && pdf.header("content-type") == "application/pdf");
    assert!(studio.journal().pieces().expect("pieces").is_empty());
    let none = studio.send_file("/studio/plan", "sheet", "next.csv", b"piece\n".to_vec());
    assert_eq!(none.status, StatusCode::BAD_REQUEST);
    studio
        .send_file(
            "/studio/sheet",
            "sheet",
            "may.csv",
            sheet.as_bytes().to_vec(),
        )
        .good();
    // 12 % of two cloths of 50 g are 12 g.
    let text = studio
        .get("/studio/plan?like=new1&pieces=2&deed=text")
        .good();
    holds(
        &text,
        &["Plan for 2 pieces, 100 g of dry cloth", "alum 12.0 g"],
    );
    assert_eq!(
        studio.get("/studio/plan?like=nobody").status,
        StatusCode::NOT_FOUND
    );
    for odd in ["-5", "NaN", "99999999999"] {
        let told = studio.get(&format!("/studio/plan?like=new1&pieces={odd}"));
        assert_eq!(told.status, StatusCode::BAD_REQUEST);
        holds(&told, &["write a number from 1 to 500"]);
    }
}

#[test]
fn a_backup_is_a_journal_again_and_an_export_comes_back() {
    let studio = Studio::new();
    studio
        .send_file(
            "/studio/sheet",
            "sheet",
            "may.csv",
            SHEET.as_bytes().to_vec(),
        )
        .good();
    let pieces = studio.journal().pieces().expect("pieces");
    let backup = studio.get("/studio/backup").good();
    assert!(
        backup
            .header("content-disposition")
            .contains("journal-2026-05-20.sqlite")
    );
    let beside = tempfile::tempdir().expect("a folder");
    std::fs::write(beside.path().join("journal.sqlite"), &backup.bytes).expect("written");
    let again = Journal::open(beside.path()).expect("a journal");
    assert_eq!(again.pieces().expect("pieces"), pieces);
    let export = studio.get("/studio/export.json").good();
    let table = studio.get("/studio/export.csv").good();
    assert_eq!(table.text(), crate::sheet::write_csv(&pieces));
    let other = Studio::new();
    let came = other
        .send_file("/studio/import", "export", "all.json", export.bytes)
        .good();
    holds(&came, &["Pieces: 2 new, 0 changed."]);
    assert_eq!(other.journal().pieces().expect("pieces"), pieces);
    let odd = other.send_file("/studio/import", "export", "all.json", b"{}".to_vec());
    assert_eq!(odd.status, StatusCode::BAD_REQUEST);
    for studio in [&studio, &other] {
        assert!(!studio.folder.path().join("arriving").exists());
    }
}

#[test]
fn a_journal_is_looked_over_and_measured_again() {
    let studio = Studio::new();
    studio.photos(&["LB001-dry.jpg"]);
    holds(
        &studio.send("/studio/check", "").good(),
        &["The journal is sound."],
    );
    let photo = studio.journal().photos().expect("photos").remove(0);
    let kept = studio
        .journal()
        .original(&photo)
        .expect("read")
        .expect("kept");
    std::fs::write(&kept, b"no photo").expect("spoilt");
    holds(
        &studio.send("/studio/check", "").good(),
        &["damaged in 1 place", "Damaged"],
    );
}

#[test]
fn all_photos_are_measured_again_while_one_goes_on() {
    let studio = Studio::new();
    studio.photos(&["LB001-dry.jpg"]);
    // Another paper makes another reading.
    let paper = studio.journal().set("paper", Some("92,0,4"));
    paper.expect("set");
    let runtime = tokio::runtime::Builder::new_multi_thread()
        .enable_all()
        .build()
        .expect("threads");
    let origin = format!("http://{HOST}");
    let request = asked("POST", HOST, "/studio/again", &[("origin", &origin)], "");
    runtime.block_on(async {
        let answer = studio
            .here
            .clone()
            .oneshot(request)
            .await
            .expect("an answer");
        assert_eq!(answer.status(), StatusCode::SEE_OTHER);
        let run = studio.house.anew.last().expect("it has begun");
        while run.ended().is_empty() {
            tokio::task::yield_now().await;
        }
    });
    holds(
        &studio.get("/studio").good(),
        &["1 photo is measured again.", "id=\"measure-again\""],
    );
    let photo = studio.journal().photos().expect("photos").remove(0);
    assert_eq!(photo.earlier.len(), 1);
}
