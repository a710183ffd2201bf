# Every sentence that a customer reads in a note, in English. DEVELOPERS.md says how to add a language.
# The format is that of Project Fluent: $names are filled in by the program, and braces choose by them.

## Numbers, dates, lists

decimal-mark = .
percent = { $number } %
percent-under-one = under 1 %
month =
    { $month ->
        [1] January
        [2] February
        [3] March
        [4] April
        [5] May
        [6] June
        [7] July
        [8] August
        [9] September
        [10] October
        [11] November
       *[12] December
    }
date = { $day } { $month } { $year }
month-of-year = { $month } { $year }
list-more = { $front }, { $next }
list-last = { $front } and { $last }

## Colour words: names of ISCC-NBS are English, so nothing is chosen here and the name stands as it is

standard-hue = { "" }
standard-modifier = { $word }
beneath = { "" }
beneath-own = { $standard }

## The piece

fibre = { $word }
stuff = { $fibre } { $weave }
thing-item = { $stuff } { $item }
thing-item-bare = { $item }
thing-piece = piece of { $stuff }
thing-bare = piece of cloth
a-thing =
    { $sound ->
        [vowel] An { $thing }
       *[other] A { $thing }
    }
size = { $width }{ "\u00A0" }×{ "\u00A0" }{ $length }{ "\u00A0" }cm ({ $width-inches }{ "\u00A0" }×{ "\u00A0" }{ $length-inches }{ "\u00A0" }in)

## What it looks like

colours-all = { $lead } all over
colours-lead =
    { $count ->
        [one] mostly { $lead }
       *[other] mainly { $lead }
    }
colours-many = in many colours, among them { $lead }
shades =
    { $count ->
        [2] { $word } in two shades
        [3] { $word } in three shades
        [4] { $word } in four shades
        [5] { $word } in five shades
       *[other] { $word } in six shades
    }
colours-with = { $front }, with { $list }
colours-touch =
    { $count ->
        [one] { $front }, and a touch of { $list }
       *[other] { $front }, and touches of { $list }
    }
colours-touch-only =
    { $count ->
        [one] { $front }, with a touch of { $list }
       *[other] { $front }, with touches of { $list }
    }
sentence = It came out { $colours }.
alternative = { $thing }, { $colours }.
strip = The colours of the piece, as wide as their share of the cloth.

## How it was made

prints = The prints are those of { $plants }, laid on the cloth, rolled up with it and heated until they left their colour.
prints-short = Printed with { $plants }.
soaked =
    { $count ->
        [one] The cloth was soaked in { $salts }, which binds plant colour to the fibre.
       *[other] The cloth was soaked in { $salts }, which bind plant colour to the fibre.
    }
soaked-before =
    { $count ->
        [one] Before that the cloth was soaked in { $salts }, which binds plant colour to the fibre.
       *[other] Before that the cloth was soaked in { $salts }, which bind plant colour to the fibre.
    }
soaked-then = { $front }, then in { $next }
mordant =
    { $key ->
        [tannin] plant tannin
        [iron] an iron salt
        [copper] a copper salt
        [titanium] a titanium salt
        [tin] a tin salt
        [chrome] a chrome salt
        [aluminium] an aluminium salt
       *[other] { $word }
    }
rounds =
    { $count ->
        [2] It went through the whole of this twice.
        [3] It went through the whole of this three times.
       *[other] It went through the whole of this { $count } times.
    }
made = Made in { $month }.

## How sure the colours are

photo = a photo
photo-of = a photo of { $date }
trust-chart = The colours were measured from { $photo } in which a chart of known colours lay beside the cloth.
trust-tag = The colours were measured from { $photo } in which a printed black and white lay beside the cloth.
trust-assumed = The colours were measured from { $photo } with nothing of known colour beside the cloth.
near = They may be off by about { $doubt } steps (CIEDE2000), where one or two are the least that an eye sees side by side.
near-unknown = How near they are was not recorded.
daylight = They hold for daylight (D65): under another lamp any cloth looks different.
standard-note = The names of the standard are those of ISCC-NBS (NBS Special Publication 440).
warning-wet = These colours were measured on the wet cloth. It dries lighter: expect paler colours than are told here.
warning-worn = These colours were measured after the cloth was worn.
warning-light = These colours are an estimate: the cloth may be warmer, cooler, lighter or darker than shown.

## What changed

dried =
    { $count ->
        [one] As it dried it became lighter by about 1 step of 100 (from { $low } to { $high }, as far as photos can tell).
       *[other] As it dried it became lighter by about { $steps } steps of 100 (from { $low } to { $high }, as far as photos can tell).
    }
washed =
    { $washes ->
        [one] After one wash of our own, the colour that changed most was at grade { $grade } of the grey scale (ISO 105-A05), where 5 is no change and 1 a great one. That is an estimate from photos and no laboratory test.
       *[other] After { $washes } washes of our own, the colour that changed most was at grade { $grade } of the grey scale (ISO 105-A05), where 5 is no change and 1 a great one. That is an estimate from photos and no laboratory test.
    }
washed-open = How much washing changed the cloth cannot be told from our photos yet.
washed-untold = After washing, the colour that changed most was at grade { $grade } of the grey scale (ISO 105-A05), where 5 is no change and 1 a great one. That is an estimate from photos and no laboratory test.
grade-range = { $grade } (from { $low } to { $high })

## Care, screens, light: common practice, no source

care-wash = Wash it by hand in cool water with a mild soap, on its own the first time, and rinse until the water runs clear.
care-dry = Dry it flat in the shade, and keep it out of strong sun.
care-keep = Lemon juice, vinegar and washing powder can change a plant colour at once.
screens = No two screens or lamps show a colour alike, and printers differ too: where it matters, go by the names, or by the small numbers (CIELAB under daylight D65), which mean the same everywhere.
measured-for = Measured for daylight.
screens-short = Screens and lamps change what one sees.
fading = Plant colours can change with light, wear and washing.

## Headings and small print

please-note = Please note: { $warning }
heading-colours = Colours, largest first
heading-making = How it was made
heading-trust = How sure the colours are
heading-change =
    { $what ->
        [drying] What drying changed
        [washing] What washing changed
       *[both] What drying and washing changed
    }
heading-care = Care
heading-screens = On screens and under lamps
rest =
    { $size ->
        [traces] traces of other colours
       *[more] other colours
    }
doubt = ± { $doubt }
written-with = Written with Filemot

## The cover sheet of a batch

cover-title = Notes
cover-bundle = Notes of the bundle { $bundle }
cover-pieces =
    { $count ->
        [one] 1 piece
       *[other] { $count } pieces
    }
page-of = page { $page } of { $pages }
