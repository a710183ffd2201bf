//! Desk: answers as the journal gives them, drying and washing with all that must be known of them.

use super::*;
use crate::reading::State;

/// The same question, asked of the area that answers it.
#[test]
fn the_desk_answers_as_the_journal_does() {
    let studio = season(&["LB001-dry.jpg", "LB002-dry.jpg", "LB003-dry.jpg"]);
    let question = "Which mordant gave the warmest yellows?";
    let answer = crate::ask::of_journal(
        &studio.journal(),
        question,
        crate::journal::Degrees::Celsius,
        today(),
    )
    .expect("an answer");
    let sentence = answer.sentence().replace('>', "&#62;");
    let desk = studio
        .get("/desk?q=Which+mordant+gave+the+warmest+yellows%3F")
        .good();
    shows(
        &desk,
        &[
            &sentence,
            "<svg xmlns",
            "<table id=\"groups\"",
            "data-name=\"95 % between\"",
            "/piece/LB001",
            "id=\"evidence\"",
        ],
    );
    let table = studio
        .get("/desk/evidence.csv?q=Which+mordant+gave+the+warmest+yellows%3F")
        .good();
    assert_eq!(table.text(), answer.csv().expect("a table"));
    let odd = studio.get("/desk?q=wich+mordnat");
    assert_eq!(odd.status, StatusCode::BAD_REQUEST);
    shows(
        &odd,
        &["“mordnat” was not understood", "Below stands a question"],
    );
    assert!(!odd.text().contains("--help"));
    // A slip is met by the words of questions too, though they change no answer.
    shows(&odd, &["“wich” was not understood", "“which”"]);
    for such in [
        "/desk?q=How+many+pieces+have+yellows%3F",
        "/desk?q=nearest+to+LB001",
        "/desk?q=what+should+I+try+next+for+warm+yellows",
    ] {
        shows(&studio.get(such).good(), &["id=\"answer\""]);
    }
}

#[test]
fn drying_is_shown_piece_by_piece() {
    let studio = season(&["LB001-wet.jpg", "LB001-dry.jpg"]);
    shows(
        &studio.get("/desk/drying").good(),
        &[
            "LB001",
            "steps of lightness",
            "wet above, dry below",
            "Back to the desk",
            // The terminal says it too: the studio gave no values of its own paper.
            "To mind with these numbers",
            "The colours of the tag&#39;s paper and ink are assumed",
        ],
    );
    shows(
        &studio.get("/desk/washing").good(),
        &["No piece has been photographed both dry and washed"],
    );
    shows(&studio.get("/piece/LB001").good(), &["It dried "]);
}

/// The same report as the terminal's: grades with their range, and what must be known of them.
#[test]
fn washing_tells_what_the_terminal_tells() {
    let studio = season(&["LB001-dry.jpg", "LB001-wet.jpg"]);
    let photos = studio.journal().photos().expect("photos");
    let wet = photos.iter().find(|it| it.state == Some(State::Wet));
    let id = wet.and_then(|photo| photo.id).expect("a wet photo");
    let claimed = studio
        .journal()
        .claim(id, "LB001", Some(State::Washed), None);
    claimed.expect("claimed");
    let report = crate::ask::washing(&studio.journal(), &[]).expect("a report");
    let [found] = &report.pieces[..] else {
        panic!("{report:?}")
    };
    let grade = |grade: Option<crate::change::Grade>| grade.expect("a grade").to_string();
    let [grade, low, high] = [found.grade, found.grade_low, found.grade_high].map(grade);
    assert_ne!(low, high);
    let page = studio.get("/desk/washing").good();
    shows(
        &page,
        &[
            &format!("Washed: grade {grade} of 5 (from {low} to {high})."),
            "Nobody said how often it had been washed",
            "not a fastness test",
        ],
    );
    assert!(page.text().matches("ISO 105-A05").count() == 1);
    assert!(found.cautions.len() >= 2, "{found:?}");
    shows(
        &studio.get("/piece/LB001").good(),
        &[&format!("grade {grade} of 5 (from {low} to {high}), on")],
    );
}

#[test]
fn what_to_try_next_says_why_in_this_order() {
    let photos = ["LB001", "LB002", "LB004", "LB005", "LB007", "LB008"];
    let photos = photos.map(|code| format!("{code}-dry.jpg"));
    let studio = season(&photos.each_ref().map(String::as_str));
    let page = studio.get("/desk?q=what+should+I+try+next+for+the+lightest+pieces");
    shows(
        &page.good(),
        &[
            "First stands what may better",
            "). Never tried together",
            "the cautions for each salt",
        ],
    );
}

/// In the dark the page's style gives the plot's own greys others; what it does not know would stay glaring, or unseen.
#[test]
fn the_style_knows_the_greys_of_every_plot() {
    let photos = ["LB001", "LB002", "LB004", "LB005", "LB007", "LB008"];
    let photos = photos.map(|code| format!("{code}-dry.jpg"));
    let studio = season(&photos.each_ref().map(String::as_str));
    let style = studio.get("/files/page.css").good().text();
    for question in [
        "Which+mordant+gave+the+warmest+yellows%3F",
        "How+does+simmer+time+change+lightness%3F",
        "nearest+to+LB001",
        "what+should+I+try+next+for+the+lightest+pieces",
    ] {
        let page = studio.get(&format!("/desk?q={question}")).good().text();
        let (_, plot) = page.split_once("<svg xmlns").expect("a plot");
        let (plot, _) = plot.split_once("</svg>").expect("its end");
        let mut greys = 0;
        for line in plot.lines() {
            let grey = |name: &str| line.split_once(&format!(" {name}=\"#"))?.1.get(..6);
            let stroke = grey("stroke").filter(|_| line.contains("fill=\"none\""));
            let text = grey("fill").filter(|_| line.starts_with("<text"));
            for (kind, grey) in [("stroke", stroke), ("fill", text)] {
                if let Some(grey) = grey {
                    let known = format!("[{kind}=\"#{grey}\"]");
                    assert!(style.contains(&known), "{known} for {line}");
                    greys += 1;
                }
            }
        }
        assert!(greys > 5, "{question}: {greys}");
        // The ground is the first path of all, as the style has it.
        let first = plot.lines().find(|line| line.starts_with("<path"));
        assert!(
            first.is_some_and(|line| line.contains("fill=\"#e8e8e8\"")),
            "{question}: {first:?}"
        );
    }
}
