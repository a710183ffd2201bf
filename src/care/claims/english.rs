//! Claims in English, written as [`super::Phrase`] reads them.

/// That cloth is safe on skin or for a child.
pub const SAFE: &[&str] = &[
    "non toxi*|poison*",
    "nontoxic*|babysafe|childsafe|kidsafe|petsafe|skinsafe|harmless",
    "no|not|isnt|never|zero|without … toxi*|poison*|harmful|residue*|metals",
    "toxi*|poison*|residue*|metal free",
    "toxinfree|toxicfree|poisonfree",
    "free of|from … toxi*|poison*|harmful|residue*|metals",
    "completely|perfectly|totally|absolutely|100 safe",
    "safe for|on|around|with|near … baby*|babies|newborn*|infant*|toddler*|child*|kid*|pet|pets|skin",
    "suitable|fit|ideal for … baby*|babies|newborn*|infant*|toddler*|child*",
    "baby|child|kid|pet|skin|infant safe|proof",
];

/// That it may touch food.
pub const FOOD: &[&str] = &[
    "food safe|grade",
    "foodsafe|foodgrade|edible",
    "safe|fit for … food",
    "safe to eat|chew|suck",
];

/// That it does good, or no harm, to a body.
pub const HEALTH: &[&str] = &[
    "hypo|anti|non allerg*",
    "hypoallerg*|antiallerg*|nonallerg*",
    "allergy|allergen|irritant free|friendly|safe",
    "no|without|zero … allergen*|allergies|irritant*",
    "free of|from … allergen*|irritant*",
    "non irritating",
    "dermatologic* tested",
    "kind|gentle|good|suitable to|on|for … skin",
    "skin friendly|kind",
    "skinfriendly|antibacterial|antimicrobial|antifungal",
    "anti bacterial|microbial|fungal",
    "healing|heals|therapeutic*|medicinal*|detox*|upf|spf",
    "uv|sun protect*|blocking",
];

/// That its colour stays.
pub const FAST: &[&str] = &[
    "colour|colours|light|wash|sun|water|rub fast|fastness",
    "colourfast*|lightfast*|washfast*|sunfast*",
    "fast colour|colours|dye|dyes|dyed",
    "fast to|in light|sun|sunlight|wash*|water|rubbing",
    "fade|light|wash|sun|bleed proof|resistant",
    "fade|bleed free",
    "fadeproof|lightproof|washproof|sunproof|faderesistant|fadeless|unfading|nonfading",
    "non fading|bleeding",
    "no|not|never|nor|cannot|cant|wont|doesnt|dont|without|zero … fade*|fading|bleed*",
    "not|never|cannot|cant|wont|doesnt|dont|without … lose*|losing … colour*",
    "keep|keeps|hold|holds|retain|retains its|their|all … colour|colours",
    "permanen*|everlasting|indelible|forever|eternal*|guarante*|lifelong|lifetime",
    "for ever|life",
    "long lasting",
];

/// That nothing made by chemistry is in it.
pub const PURE: &[&str] = &[
    "chemical*|synthetic* free",
    "chemicalfree|chemicalsfree",
    "no|never|zero|without … chemical*",
    "free of|from … chemical*|synthetic*",
    "100|all|pure|purely|completely|entirely|wholly|totally natural*",
];

/// That it spares the environment.
pub const KIND: &[&str] = &[
    "certified|ecofriendly|sustainab*|biodegrad*|compostable|ecolog*|organic*",
    "eco|earth|planet|environment*|climate|nature friendly",
    "environmentally safe",
    "carbon|climate neutral",
    "zero waste|impact",
    "green product",
];
