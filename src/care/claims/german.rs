//! Claims in German, written as [`super::Phrase`] reads them; the words are ours, from memory.

/// That cloth is safe on skin or for a child.
pub const SAFE: &[&str] = &[
    "ungiftig*|giftfrei*|atoxisch*|unbedenklich*|unschädlich*|schadstofffrei*|schadstoffgeprüft*",
    "babysicher*|babygeeignet*|babyfreundlich*|babytauglich*|kindersicher*|hautverträglich*",
    "gift|gifte|schadstoff|schadstoffe|schwermetall frei*|geprüft*",
    "baby|babys|kinder|haut sicher*|geeignet*|freundlich*|tauglich*|verträglich*",
    "frei von|an … gift*|schadstoff*|schwermetall*",
    "nicht|nie|ohne|kein* … gift*|toxisch*|schadstoff*|schwermetall*|schädlich*",
    "für … baby*|säugling*|kinder|kleinkinder|neugeborene* … geeignet*|sicher*|tauglich*",
    "geeignet|sicher|tauglich für … baby*|säugling*|kinder|kleinkinder|neugeborene*|haut",
];

/// That it may touch food.
pub const FOOD: &[&str] = &["lebensmittelecht*|lebensmittelgeeignet*|essbar*"];

/// That it does good, or no harm, to a body.
pub const HEALTH: &[&str] = &[
    "hypoallerg*|antiallerg*|allergenfrei*|allergiefrei*|allergikergeeignet*|allergikerfreundlich*",
    "allergiker geeignet*|freundlich*|gerecht*",
    "frei von … allergen*",
    "hautfreundlich*|hautschonend*|antibakteriell*|heilend*|heilkräftig*|entgiftend*|lichtschutzfaktor*",
];

/// That its colour stays.
pub const FAST: &[&str] = &[
    "farbecht*|lichtecht*|waschecht*|hochlichtecht*|farbfest*|lichtfest*|waschfest*",
    "farbbeständig*|lichtbeständig*|waschbeständig*|farbtreu*|unverblassbar*",
    "farb|farben|licht|wasch echt*|fest*|beständig*",
    "verblass*|verbleich*|verlier* … nicht|nie|niemals|kein*",
    "bleich*|färb* … nicht|nie|niemals aus|ab",
    "nicht|nie|niemals|kein*|ohne … verblass*|verbleich*|ausbleich*|abfärb*",
    "unvergänglich*|dauerhaft*|garant*|lebenslang*|ewig*",
    "für immer",
];

/// That nothing made by chemistry is in it.
pub const PURE: &[&str] = &[
    "chemiefrei*|chemikalienfrei*|naturrein*",
    "chemie|chemikalien frei*",
    "ohne|null|kein* … chemi*",
    "frei von|an … chemi*",
    "100|rein|ganz|völlig natürlich*",
];

/// That it spares the environment.
pub const KIND: &[&str] = &[
    "umweltfreundlich*|umweltschonend*|nachhaltig*|klimaneutral*|kompostierbar*|zertifiziert*|ökologisch*",
    "umwelt freundlich*|schonend*",
    "klima neutral*",
];
