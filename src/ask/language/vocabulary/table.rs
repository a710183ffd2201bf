//! Every word of the language but those for numbers and days: phrases, and what they mean.

use super::{Meaning, Narrowing};
use crate::ask::language::terms::{Factor, Measure, Order, Part};
use crate::reading::State;

use Factor::*;
use Meaning::*;
use Measure::*;
use Order::*;

/// Phrases with ` | ` between them, lower case, no articles.
pub const TABLE: &[(&str, Meaning)] = &[
    (
        "which | what | who | whose | that | this | these | those | it | its | they | them | their | there",
        Filler,
    ),
    (
        "i | we | us | me | my | our | mine | ours | you | your | please | show | tell | find | list | compare",
        Filler,
    ),
    (
        "is | are | was | were | be | been | have been | has been | has | have | had | can | will | would | should",
        Filler,
    ),
    (
        "of | in | to | from | at | by | per | each | every | all | among | between | when | while | once | still | if | where",
        Filler,
    ),
    (
        "gave | give | gives | given | giving | produce | produces | produced | take | takes | took",
        Filler,
    ),
    (
        "yield | yields | yielded | bring | brings | brought | turn | turns | turned | leave | left",
        Filler,
    ),
    (
        "get | gets | got | come | comes | came | come out | comes out | came out | turned out | so far | ever | until now | here",
        Filler,
    ),
    (
        "colour | colours | color | colors | shade | shades | tone | tones | result | results | state | photo | photos",
        Filler,
    ),
    (
        "value | values | kind of | sort of | type of | kind | sort | type",
        Filler,
    ),
    ("piece | pieces | cloth | cloths | fabric | fabrics", Pieces),
    ("print | prints | printed | leaf print | leaf prints", Print),
    (
        "first | try | about | any | some | with which | on which | in which | at which | at what | of any year | of northern half",
        Filler,
    ),
    (
        "average | mean | typical | usually | usual | dye | dyes | dyed | rank | ranked | but | instead",
        Filler,
    ),
    (
        "more of | end of | start of | today | overall | generally | my journal | our journal | journal",
        Filler,
    ),
    (
        "affect | affects | affected | change | changes | changed | influence | influences | influenced | change with | changes with | changed with",
        Changes,
    ),
    (
        "depend on | depends on | depended on | effect | effect of | effect on | effects of | against",
        Changes,
    ),
    ("how", Filler),
    ("do | does | did | make | makes | made | making", Does),
    (
        "or | than | versus | vs | as against | compared with | compared to",
        Against,
    ),
    ("and | as well as", And),
    (
        "how many | how many pieces | number of pieces | count | count of pieces",
        Count,
    ),
    ("next | try next | what next | what to try next", Next),
    (
        "warmest | warmer | warm | most warm | warms | warmed",
        Best(Warmth, Highest),
    ),
    (
        "coolest | cooler | cool | coldest | colder | least warm | cools",
        Best(Warmth, Lowest),
    ),
    (
        "lightest | lighter | light | most light",
        Best(Lightness, Highest),
    ),
    (
        "darkest | darker | dark | deepest | deeper | deep | darken | darkens | darkened | deepen | deepens",
        Best(Lightness, Lowest),
    ),
    (
        "strongest | stronger | strong | most vivid | vivid | most saturated | most intense | most colourful | most colorful | strengthen | strengthens",
        Best(Chroma, Highest),
    ),
    (
        "palest | paler | pale | weakest | weaker | faintest | dullest | duller | dull | dulls | least vivid | least saturated",
        Best(Chroma, Lowest),
    ),
    ("reddest | redder", Towards(Lowest)),
    ("greenest | greener", Towards(Highest)),
    ("highest angle | largest angle", Best(Hue, Highest)),
    ("lowest angle | smallest angle", Best(Hue, Lowest)),
    (
        "most even | more even | evenest | even | most evenly | evenly",
        Best(Evenness, Lowest),
    ),
    (
        "least even | less even | most uneven | uneven | blotchiest | blotchier | blotchy",
        Best(Evenness, Highest),
    ),
    (
        "largest share | biggest share | highest share | how much",
        Best(Share, Highest),
    ),
    ("smallest share | lowest share", Best(Share, Lowest)),
    (
        "most colours | most colors | more colours | more colors",
        Best(Number, Highest),
    ),
    (
        "fewest colours | fewest colors | fewer colours | fewer colors | least colours | least colors",
        Best(Number, Lowest),
    ),
    (
        "dried lightest | dried lighter | dries lightest | dries lighter | dry lighter | dried most | dries most",
        Best(Lightening, Highest),
    ),
    (
        "lightened most | lightens most | lighten most | most lightening | lightest on drying | lighter on drying",
        Best(Lightening, Highest),
    ),
    (
        "lightened most on drying | gained most lightness | most lightening on drying",
        Best(Lightening, Highest),
    ),
    (
        "dried darkest | dried darker | dries darkest | dries darker | dried least | dries least",
        Best(Lightening, Lowest),
    ),
    (
        "lightened least | lightens least | lighten least | least lightening | lightened least on drying",
        Best(Lightening, Lowest),
    ),
    (
        "changed least in washing | changes least in washing | change least in washing | most washfast | most wash fast | washfast",
        Best(Fading, Lowest),
    ),
    (
        "changed most in washing | changes most in washing | change most in washing | least washfast",
        Best(Fading, Highest),
    ),
    ("warmth", Name(Warmth)),
    ("lightness", Name(Lightness)),
    (
        "chroma | saturation | strength of colour | strength of color | colour strength | color strength",
        Name(Chroma),
    ),
    ("hue | hue angle | hues", Name(Hue)),
    ("evenness", Name(Evenness)),
    ("share", Name(Share)),
    (
        "number of colours | number of colors | how many colours | how many colors | number of",
        Name(Number),
    ),
    (
        "lightening | lightening on drying | drying | from wet to dry",
        Name(Lightening),
    ),
    (
        "fading | fade | fades | faded | change in washing | changes in washing | from dry to washed",
        Name(Fading),
    ),
    (
        "most | highest | greatest | more | largest | biggest",
        Amount(Highest),
    ),
    (
        "least | lowest | smallest | less | fewest | fewer",
        Amount(Lowest),
    ),
    (
        "mordant | mordants | mordanting | sequence | sequences | sequence of soaks",
        By(Mordant),
    ),
    (
        "soak | soaks | salt | salts | single soak | single soaks | single mordant | single mordants",
        By(Soak),
    ),
    ("plant | plants | leaf | leaves | species", By(Plant)),
    ("bundle | bundles | roll | rolls", By(Bundle)),
    ("pot | pots", By(Pot)),
    (
        "layer | layers | place in roll | place in bundle",
        By(Layer),
    ),
    (
        "weight | weights | weight of cloth | cloth weight | weight of fabric | heaviness",
        By(Weight),
    ),
    (
        "simmer temperature | simmering temperature | simmer temperatures | temperature | temperatures | simmer heat",
        By(SimmerTemperature),
    ),
    (
        "simmer time | simmering time | simmer times | time | simmer minutes | minutes | length of simmer | simmer length | simmer duration",
        By(SimmerTime),
    ),
    (
        "heat | heating | kind of heat | simmer or steam | steam or simmer",
        By(Heat),
    ),
    ("fibre | fibres | fiber | fibers", By(Fibre)),
    ("weave | weaves", By(Weave)),
    ("round | rounds | number of rounds", By(Round)),
    ("month | months", By(Month)),
    ("season | seasons | time of year", By(Season)),
    ("year | years", By(Year)),
    ("bath age | age of bath | age of baths", By(BathAge(None))),
    ("status", By(Status)),
    (
        "which piece | which pieces | what piece | by piece | each piece | piece by piece | which cloth | which cloths",
        By(Piece),
    ),
    (
        "longer simmer | longer simmering | simmering longer | simmered longer | longer simmer time | longer heating",
        Rising(SimmerTime),
    ),
    (
        "hotter simmer | hotter simmering | hotter pot | simmering hotter | hotter | higher simmer temperature | higher temperature",
        Rising(SimmerTemperature),
    ),
    (
        "heavier cloth | heavier fabric | heavier silk | heavier | higher weight",
        Rising(Weight),
    ),
    ("older bath | older baths", Rising(BathAge(None))),
    ("wet", In(State::Wet)),
    (
        "dry | dried | after drying | unwashed | not washed | not yet washed | before washing",
        In(State::Dry),
    ),
    (
        "washed | after washing | after wash | after being washed",
        In(State::Washed),
    ),
    ("worn | after wearing | after being worn", In(State::Worn)),
    (
        "in prints | on prints | of prints | in print | in printed parts | prints alone",
        On(Part::Print(None)),
    ),
    (
        "ground | grounds | in ground | in grounds | on ground | of ground | of grounds | on grounds",
        On(Part::Ground),
    ),
    (
        "steamed | in steam | by steaming | by steam | when steamed",
        Heated("steam"),
    ),
    (
        "simmered | by simmering | in simmer | when simmered",
        Heated("simmer"),
    ),
    ("steam | steaming", Heating("steam")),
    ("simmer | simmering", Heating("simmer")),
    ("simmering or steaming | steaming or simmering", By(Heat)),
    ("with | using | that have | having", Narrow(Narrowing::With)),
    (
        "without | with no | no | but no | not with | but not with | except | except with | except for | excluding | free of | other than | not using",
        Narrow(Narrowing::Without),
    ),
    (
        "with or without | with and without | without or with",
        Narrow(Narrowing::WithOrWithout),
    ),
    ("on", Narrow(Narrowing::On)),
    ("for", Narrow(Narrowing::For)),
    (
        "printed by | prints of | prints from | prints by | print of | in prints of | in prints by | on prints of | of prints of",
        Narrow(Narrowing::PrintedBy),
    ),
    (
        "strength of | concentration of",
        Narrow(Narrowing::StrengthOf),
    ),
    ("age of | bath age of", Narrow(Narrowing::AgeOf)),
    ("column", Narrow(Narrowing::Column)),
    (
        "nearest to | nearest | near to | closest to | closest | close to | most similar to | similar to | like | look like | looks like | most like",
        Narrow(Narrowing::NearTo),
    ),
    ("not | but not", Denial),
    (
        "best | better | nicest | prettiest | finest | good | worst | bad",
        Unclear("say what is best about it: warmest, lightest, strongest or most yellow"),
    ),
    (
        "brightest | brighter | bright | brighten | brightens",
        Unclear("it can mean light or strong: say lightest or strongest"),
    ),
    (
        "richest | rich | richer",
        Unclear("it can mean dark or strong: say darkest or strongest"),
    ),
    (
        "lighten | lightens | lightened",
        Unclear(
            "say “make lighter” for the colour itself, or “lightened most on drying” for wet to dry",
        ),
    ),
    (
        "yellowest | yellower | bluest | bluer | brownest | browner",
        Unclear(
            "it is the share of the cloth that can be asked for: say “most yellow” or “most blue”",
        ),
    ),
    (
        "strength | strengths | concentration",
        Unclear(
            "say of which mordant, “strength of alum”, or “chroma” for the strength of a colour",
        ),
    ),
    (
        "age",
        Unclear("say the age of what: “age of the alum bath”, or a column of your sheet"),
    ),
];
