"""The fixed sentences of a page in German on foundation, ends, fringe and border; see `german`.

No German source of the trade was found for these, so they are said in plain words, from the words that have one: feste
Masche, Luftmasche, Kettmasche, Maschenglied. A standing sc is worked "mit einer Schlinge auf der Nadel".
"""

from __future__ import annotations

_RATIOS = {
    "{n} stitch for each row": "{n} Masche je Reihe",
    "{n} stitches for each row": "{n} Maschen je Reihe",
    "{n} stitch for every {n2} rows": "{n} Masche auf je {n2} Reihen",
    "{n} stitches for every {n2} rows": "{n} Maschen auf je {n2} Reihen",
}
_TAILS = {"each tail": "Jedes Fadenende", "every {n} neighbouring tails": "Je {n} benachbarte Fadenenden"}
_LAST_TAILS = {
    "": "",
    ", the last with {n3} tail": ", der letzte mit {n3} Fadenende",
    ", the last with {n3} tails": ", der letzte mit {n3} Fadenenden",
}
_CORNERS = {
    "3 sc in each corner st": "3 feste Maschen in jede Eckmasche",
    "(sc, ch 1, sc) in each corner space": "(feste Masche, 1 Luftmasche, feste Masche) in jeden Eckbogen",
    "(sc, ch 2, sc) in each corner space": "(feste Masche, 2 Luftmaschen, feste Masche) in jeden Eckbogen",
}
_CLOSING = {
    "3 sc": "3 festen Maschen",
    "(sc, ch 1, sc)": "(feste Masche, 1 Luftmasche, feste Masche)",
    "(sc, ch 2, sc)": "(feste Masche, 2 Luftmaschen, feste Masche)",
}

EDGE_SENTENCES: dict[str, str] = {
    "{size}, with its border.": "{size}, mit der Umrandung.",
    "{size}, without the border.": "{size}, ohne die Umrandung.",
    "{size}, without the border": "{size}, ohne die Umrandung",
    "{size}, without the fringe of {n} cm ({n2} in) at each side.": "{size}, ohne die Fransen von {n} cm ({n2}″) an jeder Seite.",
    "{size}, with a fringe of {n} cm ({n2} in) at both sides.": "{size}, mit Fransen von {n} cm ({n2}″) an beiden Seiten.",
    "{size}, with a fringe of {n} cm ({n2} in) at both sides": "{size}, mit Fransen von {n} cm ({n2}″) an beiden Seiten",
    "{size}, its border outside a dashed line": "{size}, die Umrandung außerhalb einer gestrichelten Linie",
    "MC ({name})": "GF ({name})",
    "CC ({name})": "KF ({name})",
    "Weave in the {n} tails on the wrong side, each over 10 to 15 cm (4 to 6 in), there and back through stitches of its own color.": "Die {n} Fadenenden auf der Rückseite vernähen, jedes über 10 bis 15 cm (4 bis 6 Zoll), hin und zurück durch Maschen seiner eigenen Farbe.",
    "Weave in the {n} tail on the wrong side, each over 10 to 15 cm (4 to 6 in), there and back through stitches of its own color.": "Das {n} Fadenende auf der Rückseite vernähen, über 10 bis 15 cm (4 bis 6 Zoll), hin und zurück durch Maschen seiner eigenen Farbe.",
    "The tails of this pattern are shorter: leave them longer.": "Die Fadenenden dieser Anleitung sind kürzer: sie länger lassen.",
    "The {n} tails at both ends of the rows make the fringe: {n2} at each side.": "Die {n} Fadenenden an beiden Enden der Reihen sind die Fransen: {n2} an jeder Seite.",
    "Cut {n} strands of {what}, each {n2} cm ({n3} in), {n4} m in all.": "{n} Fäden in {what} schneiden, jeden {n2} cm ({n3}″) lang, insgesamt {n4} m.",
    "For each knot fold {n} strand in half, draw the fold through the edge and the ends through the fold.": "Für jeden Knoten {n} Faden in der Mitte falten, die Schlaufe durch den Rand und die Enden durch die Schlaufe ziehen.",
    "For each knot fold {n} strands in half, draw the fold through the edge and the ends through the fold.": "Für jeden Knoten {n} Fäden in der Mitte falten, die Schlaufe durch den Rand und die Enden durch die Schlaufe ziehen.",
    **{
        f"Knot {which} close to the edge{english}: {{n2}} knot{s} at each side{last}.": f"{welche} dicht am Rand{in_german} knoten: {{n2}} Knoten an jeder Seite{letzter}."
        for which, welche in _TAILS.items()
        for english, in_german in (("", ""), (" with an overhand knot", " mit einem einfachen Knoten"))
        for s in ("", "s")
        for last, letzter in _LAST_TAILS.items()
    },
    "The locks hold the tails, so there are no knots.": "Die Abschlüsse der Reihen halten die Fadenenden, darum sind keine Knoten nötig.",
    "Comb the fringe straight and trim it to {n} cm ({n2} in).": "Die Fransen glatt kämmen und auf {n} cm ({n2}″) kürzen.",
    "{n} sc in each row end, {n2} in all": "{n} feste Masche je Reihenende, {n2} insgesamt",
    "{n} sc for every {n2} rows, {n3} in all": "{n} feste Maschen auf je {n2} Reihen, {n3} insgesamt",
    "Border of {n} round in {what}.": "Umrandung mit {n} Runde in {what}.",
    "Border of {n} rounds in {what}.": "Umrandung mit {n} Runden in {what}.",
    "Border of two layers of {n} round in {what} that closes over the tails.": "Umrandung aus zwei Lagen mit je {n} Runde in {what}, die sich über den Fadenenden schließt.",
    "Border of two layers of {n} rounds in {what} that closes over the tails.": "Umrandung aus zwei Lagen mit je {n} Runden in {what}, die sich über den Fadenenden schließt.",
    "Edging of {n} row in {what} along both ends of the rows.": "Kante mit {n} Reihe in {what} an beiden Enden der Reihen.",
    "Edging of {n} rows in {what} along both ends of the rows.": "Kante mit {n} Reihen in {what} an beiden Enden der Reihen.",
    **{
        f"Along the sides {english} {be} {{n3}}% {much} than would lie flat at this gauge.": f"An den Seiten {ist} {in_german} um {{n3}} % {viel}, als bei dieser Maschenprobe glatt {liegt}."
        for english, in_german in _RATIOS.items()
        for be, ist, liegt in [
            ("is", "ist", "liegt") if english.startswith("{n} stitch ") else ("are", "sind", "liegen")
        ]
        for much, viel in (("more", "mehr"), ("fewer", "weniger"))
    },
    **{
        f"At this gauge the border lies flat with exactly {english} along the sides.": f"Bei dieser Maschenprobe liegt die Umrandung mit genau {in_german} an den Seiten glatt."
        for english, in_german in _RATIOS.items()
    },
    "It may wave; check after a few stitches.": "Sie kann sich wellen; nach ein paar Maschen nachsehen.",
    "It may pull in; check after a few stitches.": "Sie kann sich zusammenziehen; nach ein paar Maschen nachsehen.",
    "Cut all tails to at most {n} cm ({n2} in), shorter than the border is deep.": "Alle Fadenenden auf höchstens {n} cm ({n2}″) kürzen, kürzer als die Umrandung breit ist.",
    "Round 1: with the right side facing, join {what} with a standing sc in the first stitch of the last row; sc in each of the {n} stitches across; along the row ends {what2}; sc in each of the {n2} stitches of the foundation; along the other row ends the same.": "Runde 1: auf der Vorderseite {what} mit einer Schlinge auf der Nadel und einer festen Masche in die erste Masche der letzten Reihe ansetzen; feste Masche in jede der {n} Maschen; an den Reihenenden {what2}; feste Masche in jede der {n2} Maschen des Anschlags; an den anderen Reihenenden ebenso.",
    "Round 1: with the right side facing, join {what} with a standing sc in the first stitch of the last row; sc in each of the {n} stitch across; along the row ends {what2}; sc in each of the {n2} stitch of the foundation; along the other row ends the same.": "Runde 1: auf der Vorderseite {what} mit einer Schlinge auf der Nadel und einer festen Masche in die Masche der letzten Reihe ansetzen; an den Reihenenden {what2}; feste Masche in die {n} Masche des Anschlags ({n2}); an den anderen Reihenenden ebenso.",
    "Back layer, round 1: with the wrong side facing, join {what}; sc in the loop nearest you of each of the {n} stitches of the last row; along the row ends work round the chain beside the edge {what2}; sc round the edge of each of the {n2} stitches of the foundation; along the other row ends the same.": "Hintere Lage, Runde 1: auf der Rückseite {what} ansetzen; feste Masche in das Maschenglied, das am nächsten liegt, jeder der {n} Maschen der letzten Reihe; an den Reihenenden um die Luftmasche am Rand {what2}; feste Masche um den Rand jeder der {n2} Maschen des Anschlags; an den anderen Reihenenden ebenso.",
    "Back layer, round 1: with the wrong side facing, join {what}; sc in the loop nearest you of each of the {n} stitch of the last row; along the row ends work round the chain beside the edge {what2}; sc round the edge of each of the {n2} stitch of the foundation; along the other row ends the same.": "Hintere Lage, Runde 1: auf der Rückseite {what} ansetzen; feste Masche in das Maschenglied, das am nächsten liegt, der {n} Masche der letzten Reihe; an den Reihenenden um die Luftmasche am Rand {what2}; feste Masche um den Rand der {n2} Masche des Anschlags; an den anderen Reihenenden ebenso.",
    "At each of the 4 corners work 2 sc in the last place before it.": "An jeder der 4 Ecken 2 feste Maschen in die letzte Stelle davor häkeln.",
    "At each of the 4 corners work ch 1.": "An jeder der 4 Ecken 1 Luftmasche häkeln.",
    "At each of the 4 corners work ch 2.": "An jeder der 4 Ecken 2 Luftmaschen häkeln.",
    "Join with a slip stitch. ({counts} sc)": "Mit einer Kettmasche schließen. ({counts} feste Maschen)",
    **{
        f"{before} 2: ch 1, sc in each st and {english}; join with a slip stitch. ({{counts}} sc)": f"{vorher} 2: 1 Luftmasche, feste Masche in jede Masche und {in_german}; mit einer Kettmasche schließen. ({{counts}} feste Maschen)"
        for before, vorher in (("Round", "Runde"), ("Back layer, round", "Hintere Lage, Runde"))
        for english, in_german in _CORNERS.items()
    },
    **{
        f"{before}: the same. ({{counts}} sc)": f"{vorher}: ebenso. ({{counts}} feste Maschen)"
        for before, vorher in (
            ("Round 3", "Runde 3"),
            ("Rounds {span}", "Runden {span}"),
            ("Back layer, round 3", "Hintere Lage, Runde 3"),
            ("Back layer, rounds {span}", "Hintere Lage, Runden {span}"),
        )
    },
    "Fasten off and weave in both tails of the border.": "Den Faden sichern und beide Fadenenden der Umrandung vernähen.",
    "Fasten off and weave in the tails of the front layer.": "Den Faden sichern und die Fadenenden der vorderen Lage vernähen.",
    "Fasten off the back layer and weave in its tails.": "Den Faden der hinteren Lage sichern und ihre Fadenenden vernähen.",
    "Fasten off, work the other side alike, and weave in the tails.": "Den Faden sichern, die andere Seite ebenso häkeln und die Fadenenden vernähen.",
    "Front layer: with the right side facing, work the same rounds, again in the loop nearest you of the last row and round the same chains at the edge. ({counts} sc)": "Vordere Lage: auf der Vorderseite dieselben Runden häkeln, wieder in das Maschenglied der letzten Reihe, das am nächsten liegt, und um dieselben Luftmaschen am Rand. ({counts} feste Maschen)",
    "Lay all tails between the two layers.": "Alle Fadenenden zwischen die beiden Lagen legen.",
    **{
        f"Closing round: with the right side facing, ch 1, work sc through both layers at once, a stitch of each, with {english} at each corner; join with a slip stitch. ({{counts}} sc)": f"Schlussrunde: auf der Vorderseite 1 Luftmasche, feste Maschen durch beide Lagen zugleich, je eine Masche von jeder, mit {in_german} an jeder Ecke; mit einer Kettmasche schließen. ({{counts}} feste Maschen)"
        for english, in_german in _CLOSING.items()
    },
    "Row 1: with the right side facing, join {what} at a corner with a standing sc and work along the row ends {what2}. ({counts} sc)": "Reihe 1: auf der Vorderseite {what} an einer Ecke mit einer Schlinge auf der Nadel und einer festen Masche ansetzen und an den Reihenenden häkeln: {what2}. ({counts} feste Maschen)",
    "Row 2: turn, ch 1, sc in each st. ({counts} sc)": "Reihe 2: wenden, 1 Luftmasche, feste Masche in jede Masche. ({counts} feste Maschen)",
    "Rows {span}: turn, ch 1, sc in each st. ({counts} sc)": "Reihen {span}: wenden, 1 Luftmasche, feste Masche in jede Masche. ({counts} feste Maschen)",
    "Loose strands": "Lose Fäden",
    "Put no fringe on what is made for a baby or a small child: strands come off, are chewed, and wind round small fingers.": "Keine Fransen an etwas anbringen, das für ein Baby oder ein kleines Kind ist: Fäden lösen sich, werden gekaut und wickeln sich um kleine Finger.",
    "Rules on cords and loose parts differ: what holds where you live and sell comes first.": "Regeln für Schnüre und lose Teile sind verschieden: es gilt, was am Wohn- und Verkaufsort vorgeschrieben ist.",
    "Tails": "Fadenenden",
    "Tails that are woven in too short come out: an inch (2.5 cm) came undone in the wash (“Tails”, Creating Busy Lizzy, 2012).": "Zu kurz vernähte Fadenenden lösen sich: ein Zoll (2,5 cm) ging in der Wäsche auf („Tails“, Creating Busy Lizzy, 2012).",
    "Leave and weave in 10 to 15 cm (4 to 6 in).": "10 bis 15 cm (4 bis 6 Zoll) lassen und vernähen.",
    "Scissors and strands": "Schere und Fäden",
    "Keep scissors, needles and the strands that are cut off away from small children and pets.": "Schere, Nadeln und abgeschnittene Fäden von kleinen Kindern und Haustieren fernhalten.",
}
"""Each English sentence and its German."""
