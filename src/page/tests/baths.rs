//! Baths written down, and what was done to them taken back.

use super::studio::holds;
use super::*;
use crate::journal::record::BathWork;

#[test]
fn what_is_done_to_a_bath_is_added_and_nothing_lost() {
    let studio = Studio::new();
    let write = |form: &str| studio.send("/studio/baths", form);
    holds(
        &write("bath=A1&on=2026-05-01&mordant=alum&event=made&litres=10&grams=500").good(),
        &[
            "Written down: A1, made on 2026-05-01.",
            "made 19 days ago, 50 g/L",
        ],
    );
    write("bath=a1&on=2026-05-18&event=topped+up&litres=&grams=100").good();
    holds(
        &write("bath=A1&on=2026-05-18&event=topped+up&grams=100").good(),
        &["stood there already", "60 g/L"],
    );
    // A second one on the same day is another one.
    write("bath=A1&on=2026-05-18&event=topped+up&grams=50").good();
    for (form, why) in [
        (
            "bath=A1&on=2026-05-19&event=made&litres=5&grams=100",
            "made before and not thrown out",
        ),
        (
            "bath=A1&on=2026-05-19&event=diluted&litres=plenty",
            "Litres: “plenty” is not a number",
        ),
        ("bath=&on=2026-05-19&event=made", "no bath is named"),
        (
            "bath=B1&on=2026-05-19&event=made&litres=5&grams=100",
            "what bath B1 holds is not written",
        ),
        (
            "bath=B1&on=2026-05-19&event=stirred",
            "nothing that is done to a bath",
        ),
    ] {
        let told = write(form);
        assert_eq!(told.status, StatusCode::BAD_REQUEST, "{form}");
        holds(&told, &["Not written down", why]);
    }
    let baths = studio.journal().baths().expect("baths");
    let works: Vec<BathWork> = baths[0].events.iter().map(|event| event.what).collect();
    assert_eq!(
        (baths.len(), works),
        (
            1,
            vec![BathWork::Made, BathWork::ToppedUp, BathWork::ToppedUp]
        )
    );
    holds(&studio.get("/studio").good(), &["A1 alum"]);
}

#[test]
fn what_was_done_to_a_bath_is_taken_back() {
    let studio = Studio::new();
    let made = "bath=A1&on=2026-05-01&mordant=alum&event=made&litres=10&grams=500";
    studio.send("/studio/baths", made).good();
    for event in ["discarded", "made&litres=5&grams=100"] {
        let sent = format!("bath=A1&on=2026-05-18&event={event}");
        studio.send("/studio/baths", &sent).good();
    }
    let page = studio.get("/studio/baths").good().text();
    let editions = page
        .split("type=\"hidden\" name=\"event\" value=\"")
        .skip(1);
    let editions: Vec<&str> = editions.filter_map(|rest| rest.split('"').next()).collect();
    let [made, discarded, anew] = editions[..] else {
        panic!("{page}")
    };
    let back = |event: &str| studio.send("/studio/baths/back", &format!("bath=A1&event={event}"));
    let told = back(discarded);
    assert_eq!(told.status, StatusCode::BAD_REQUEST);
    holds(&told, &["take what came after it back first"]);
    holds(
        &back(anew).good(),
        &["Taken back: A1, 2026-05-18 made, 5 L, 100 g."],
    );
    holds(&back(anew), &["not written any more"]);
    back(discarded).good();
    back(made).good();
    assert_eq!(studio.journal().baths().expect("baths"), []);
}
