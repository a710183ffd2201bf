# Jeder Satz, den eine Kundin oder ein Kunde in einer Notiz liest, auf Deutsch. Wie eine Sprache hinzukommt, steht in DEVELOPERS.md.
# Das Format ist das von Project Fluent: $namen füllt das Programm aus, geschweifte Klammern wählen nach ihnen.

## Zahlen, Tage, Aufzählungen

decimal-mark = ,
percent = { $number } %
percent-under-one = unter 1 %
month =
    { $month ->
        [1] Januar
        [2] Februar
        [3] März
        [4] April
        [5] Mai
        [6] Juni
        [7] Juli
        [8] August
        [9] September
        [10] Oktober
        [11] November
       *[12] Dezember
    }
date = { $day }. { $month } { $year }
month-of-year = { $month } { $year }
list-more = { $front }, { $next }
list-last = { $front } und { $last }

## Farbwörter: unsere Übersetzung der Namen von ISCC-NBS, die keine amtliche deutsche Form haben

standard-hue =
    { $key ->
        [pink] Rosa
        [yellowish-pink] Gelbrosa
        [purplish-pink] Purpurrosa
        [brownish-pink] Braunrosa
        [red] Rot
        [purplish-red] Purpurrot
        [reddish-orange] Rotorange
        [brownish-orange] Braunorange
        [orange] Orange
        [reddish-brown] Rotbraun
        [brown] Braun
        [yellowish-brown] Gelbbraun
        [orange-yellow] Orangegelb
        [yellow] Gelb
        [greenish-yellow] Grüngelb
        [olive-brown] Olivbraun
        [olive] Oliv
        [olive-green] Olivgrün
        [yellow-green] Gelbgrün
        [yellowish-green] gelbliches Grün
        [green] Grün
        [bluish-green] Blaugrün
        [greenish-blue] Grünblau
        [blue] Blau
        [purplish-blue] Purpurblau
        [violet] Violett
        [purple] Purpur
        [reddish-purple] Rotpurpur
        [white] Weiß
        [pinkish-white] rosastichiges Weiß
        [yellowish-white] gelbstichiges Weiß
        [greenish-white] grünstichiges Weiß
        [bluish-white] blaustichiges Weiß
        [purplish-white] purpurstichiges Weiß
        [gray] Grau
        [pinkish-gray] Rosagrau
        [reddish-gray] Rotgrau
        [brownish-gray] Braungrau
        [yellowish-gray] Gelbgrau
        [olive-gray] Olivgrau
        [greenish-gray] Grüngrau
        [bluish-gray] Blaugrau
        [purplish-gray] Purpurgrau
        [black] Schwarz
        [reddish-black] Rotschwarz
        [brownish-black] Braunschwarz
        [olive-black] Olivschwarz
        [greenish-black] Grünschwarz
        [bluish-black] Blauschwarz
        [purplish-black] Purpurschwarz
       *[other] { "" }
    }
standard-modifier =
    { $key ->
        [vivid] leuchtendes
        [brilliant] strahlendes
        [strong] kräftiges
        [deep] tiefes
        [light] helles
        [moderate] mittleres
        [medium] mittleres
        [dark] dunkles
        [pale] blasses
        [grayish] gräuliches
        [blackish] schwärzliches
        [very] sehr
       *[other] { $word }
    }
beneath = ISCC-NBS: { $standard }
beneath-own = ISCC-NBS: { $standard }

## Das Stück

fibre =
    { $key ->
        [silk] Seide
        [wool] Wolle
        [cotton] Baumwolle
        [linen] Leinen
        [hemp] Hanf
        [viscose] Viskose
        [cashmere] Kaschmir
        [alpaca] Alpaka
       *[other] { $word }
    }
stuff = { $fibre } ({ $weave })
thing-item = { $item } aus { $stuff }
thing-item-bare = { $item }
thing-piece = Stück { $stuff }
thing-bare = Stück Stoff
a-thing = { $thing }
size = { $width }{ "\u00A0" }×{ "\u00A0" }{ $length }{ "\u00A0" }cm

## Wie es aussieht

colours-all = durchgehend { $lead }
colours-lead =
    { $count ->
        [one] überwiegend { $lead }
       *[other] vor allem { $lead }
    }
colours-many = vielfarbig, darunter { $lead }
shades =
    { $count ->
        [2] { $word } in zwei Tönen
        [3] { $word } in drei Tönen
        [4] { $word } in vier Tönen
        [5] { $word } in fünf Tönen
       *[other] { $word } in sechs Tönen
    }
colours-with = { $front }, dazu { $list }
colours-touch = { $front }, auch ein wenig { $list }
colours-touch-only = { $front }, dazu ein wenig { $list }
sentence = Es wurde { $colours }.
alternative = { $thing }: { $colours }.
strip = Die Farben des Stücks, so breit wie ihr Anteil am Stoff.

## Wie es entstand

prints = Die Drucke stammen von { $plants }: auf den Stoff gelegt, mit ihm aufgerollt und erhitzt, bis sie ihre Farbe abgaben.
prints-short = Gedruckt mit { $plants }.
soaked = Der Stoff wurde mit { $salts } gebeizt, damit die Faser die Pflanzenfarbe annimmt.
soaked-before = Zuvor wurde der Stoff mit { $salts } gebeizt, damit die Faser die Pflanzenfarbe annimmt.
soaked-then = { $front }, dann mit { $next }
mordant =
    { $key ->
        [tannin] Pflanzengerbstoff
        [iron] einem Eisensalz
        [copper] einem Kupfersalz
        [titanium] einem Titansalz
        [tin] einem Zinnsalz
        [chrome] einem Chromsalz
        [aluminium] einem Aluminiumsalz
        [alum] Alaun
       *[other] { $word }
    }
rounds =
    { $count ->
        [2] Das Ganze geschah zweimal.
        [3] Das Ganze geschah dreimal.
       *[other] Das Ganze geschah { $count }-mal.
    }
made = Entstanden im { $month }.

## Wie sicher die Farben sind

photo = einem Foto
photo-of = einem Foto vom { $date }
trust-chart = Die Farben sind aus { $photo } gemessen, auf dem eine Tafel mit bekannten Farben neben dem Stoff lag.
trust-tag = Die Farben sind aus { $photo } gemessen, auf dem ein gedrucktes Schwarz und Weiß neben dem Stoff lag.
trust-assumed = Die Farben sind aus { $photo } gemessen, auf dem nichts von bekannter Farbe neben dem Stoff lag.
near = Sie können um etwa { $doubt } Schritte (CIEDE2000) abweichen; ein oder zwei sind das Wenigste, was das Auge nebeneinander sieht.
near-unknown = Wie genau sie sind, ist nicht festgehalten.
daylight = Sie gelten für Tageslicht (D65): Unter einer anderen Lampe sieht jeder Stoff anders aus.
standard-note = Die Namen der Norm sind die von ISCC-NBS (NBS Special Publication 440); die deutschen sind unsere Übersetzung.
warning-wet = Diese Farben sind am nassen Stoff gemessen. Beim Trocknen wird er heller: Zu erwarten sind blassere Farben, als hier stehen.
warning-worn = Diese Farben sind gemessen, nachdem der Stoff getragen wurde.
warning-light = Diese Farben sind geschätzt: Der Stoff kann wärmer, kühler, heller oder dunkler sein als gezeigt.

## Was sich änderte

dried =
    { $count ->
        [one] Beim Trocknen wurde es um etwa 1 Schritt von 100 heller ({ $low } bis { $high }, soweit Fotos das zeigen).
       *[other] Beim Trocknen wurde es um etwa { $steps } Schritte von 100 heller ({ $low } bis { $high }, soweit Fotos das zeigen).
    }
washed =
    { $washes ->
        [one] Nach einer eigenen Wäsche stand die Farbe, die sich am meisten änderte, bei Stufe { $grade } des Graumaßstabs (ISO 105-A05); 5 ist keine Änderung, 1 eine große. Das ist aus Fotos geschätzt und keine Laborprüfung.
       *[other] Nach { $washes } eigenen Wäschen stand die Farbe, die sich am meisten änderte, bei Stufe { $grade } des Graumaßstabs (ISO 105-A05); 5 ist keine Änderung, 1 eine große. Das ist aus Fotos geschätzt und keine Laborprüfung.
    }
washed-open = Wie viel das Waschen am Stoff änderte, lässt sich aus unseren Fotos noch nicht sagen.
washed-untold = Nach dem Waschen stand die Farbe, die sich am meisten änderte, bei Stufe { $grade } des Graumaßstabs (ISO 105-A05); 5 ist keine Änderung, 1 eine große. Das ist aus Fotos geschätzt und keine Laborprüfung.
grade-range = { $grade } (von { $low } bis { $high })

## Pflege, Bildschirme, Licht: üblich, ohne Quelle

care-wash = Von Hand in kühlem Wasser mit milder Seife waschen, beim ersten Mal für sich allein, und spülen, bis das Wasser klar bleibt.
care-dry = Liegend im Schatten trocknen und vor starker Sonne bewahren.
care-keep = Zitronensaft, Essig und Waschpulver können eine Pflanzenfarbe sofort verändern.
screens = Keine zwei Bildschirme und Lampen zeigen eine Farbe gleich, auch Drucker nicht: Wo es darauf ankommt, gelten die Namen oder die kleinen Zahlen (CIELAB bei Tageslicht D65), die überall dasselbe bedeuten.
measured-for = Gemessen für Tageslicht.
screens-short = Bildschirme und Lampen verändern, was man sieht.
fading = Pflanzenfarben können sich durch Licht, Tragen und Waschen verändern.

## Überschriften und Kleingedrucktes

please-note = Bitte beachten: { $warning }
heading-colours = Farben, die größte zuerst
heading-making = Wie es entstand
heading-trust = Wie sicher die Farben sind
heading-change =
    { $what ->
        [drying] Was das Trocknen änderte
        [washing] Was das Waschen änderte
       *[both] Was Trocknen und Waschen änderten
    }
heading-care = Pflege
heading-screens = Auf Bildschirmen und unter Lampen
rest =
    { $size ->
        [traces] Spuren anderer Farben
       *[more] andere Farben
    }
doubt = ± { $doubt }
written-with = Geschrieben mit Filemot

## Das Deckblatt zu mehreren Stücken

cover-title = Notizen
cover-bundle = Notizen zum Bündel { $bundle }
cover-pieces =
    { $count ->
        [one] 1 Stück
       *[other] { $count } Stücke
    }
page-of = Seite { $page } von { $pages }
