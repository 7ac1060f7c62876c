"""What the writer says in German. Sources of the trade's words stand in `languages`.

Our own stitches are put together from published abbreviations: `hMg-fM` is a feste Masche (fM) in the hinteres
Maschenglied, `vMg-Stb` a Stäbchen (Stb) in the vorderes Maschenglied, `fM-Stb-h` and `fM-Stb-v` a feste Masche and a
Stäbchen worked together, hinten or vorn, and `Lm-fM` a feste Masche that makes its own Luftmasche, which English calls
foundation sc. GF and KF stand for Grundfarbe and Kontrastfarbe. The key of a text says so.
"""

from __future__ import annotations

from mosaickit.fabric import Stitch
from mosaickit.orientation import Role
from mosaickit.wording.phrasebook import Phrasebook

_COLOURS: dict[Role, str] = {"MC": "Grundfarbe", "CC": "Kontrastfarbe"}
_CLOSED = (
    "(4 Schlingen auf der Nadel); Umschlag, durch 2 Schlingen ziehen, Umschlag, durch die übrigen 3 Schlingen ziehen."
)
_BOTH = "Feste Masche und Stäbchen zusammen abgemascht, das Stäbchen"
_THROUGH = "eine Schlinge durch das hintere Maschenglied der Masche darunter holen, Umschlag, eine Schlinge auf der"

# as in `english`; from memory: common practice, no source
_FOUNDATION_SC = (
    "2 Luftmaschen häkeln, in die zweite Luftmasche ab der Nadel einstechen und eine Schlinge holen; Umschlag und "
    "durch 1 Schlinge ziehen, das ist die Luftmasche am Fuß; Umschlag und durch 2 Schlingen ziehen. Jede weitere in "
    "die Luftmasche am Fuß der vorigen häkeln."
)

GERMAN = Phrasebook(
    roles=({"MC": "GF", "CC": "KF"}, _COLOURS),
    role_words=_COLOURS,
    places=(
        {
            "next": ("in die nächste M", "in die nächsten {n} M"),
            "last": ("in die letzte M", "in die letzten {n} M"),
        },
        {
            "next": ("in die nächste Masche", "in die nächsten {n} Maschen"),
            "last": ("in die letzte Masche", "in die letzten {n} Maschen"),
        },
    ),
    star=("*{inner}; von * noch 1-mal wiederholen", "*{inner}; von * noch {n}-mal wiederholen"),
    bracket="[{inner}] {n}-mal",
    following="das Folgende insgesamt {n}-mal häkeln: {inner}, {end}",
    ends=("Ende der inneren Wiederholung", "Ende der Wiederholung"),
    then=(", dann ", ". Dann "),
    every=(
        ("{stitch} in jede M bis zum Ende", "{stitch} in jede M bis zum Ende der Runde"),
        ("{stitch} in jede Masche bis zum Ende", "{stitch} in jede Masche bis zum Ende der Runde"),
    ),
    first_flat=(
        ("{stitch} in die 2. Lm ab der Nadel", "{stitch} in die 2. Lm ab der Nadel und in jede Lm bis zum Ende"),
        (
            "{stitch} in die zweite Luftmasche ab der Nadel",
            "{stitch} in die zweite Luftmasche ab der Nadel und in jede Luftmasche bis zum Ende",
        ),
    ),
    first_round=(
        "{stitch} in jede Lm bis zum Ende der Runde",
        "{stitch} in jede Luftmasche bis zum Ende der Runde",
    ),
    change=("Wechsel zu {yarn};", "Wechsel zu {yarn}, dann"),
    row_words=("Reihe", "Reihen"),
    round_words=(("Runde", "Runden"), ("Runde", "Runden")),
    label=("{row} {n} ({colour})", "{row} {n}, {colour}"),
    span=("{first}-{last}", "{first} bis {last}"),
    units=(("M", "M"), ("Masche", "Maschen")),
    in_all="{told} insgesamt.",
    again=(
        ("{rows} {span} wiederholen", "{rows} {span} noch {n}-mal wiederholen"),
        ("{rows} {span} wiederholen", "{rows} {span} noch {n}-mal wiederholen"),
    ),
    sections=("Garne", "Abkürzungen", "Besondere Maschen", "Hinweise"),
    written=("Häkelanleitung auf Deutsch.", "Häkelanleitung auf Deutsch."),
    name="Titel: {name}",
    worked=("Gearbeitet in Reihen, {hand}.", "Gearbeitet in Runden, {hand}."),
    handed={"right": "rechtshändig", "left": "linkshändig"},
    yarn_from="ab Reihe {n}: ",
    foundation=(
        ("Anschlag: mit {colour} {n} Lm anschlagen.", "Anschlag: mit {colour} {n} Lm anschlagen, zur Runde schließen."),
        (
            "Anschlag: mit {colour} {n} Luftmaschen anschlagen.",
            "Anschlag: mit {colour} {n} Luftmaschen anschlagen und zur Runde schließen.",
        ),
    ),
    multiple=("Vielfaches von {n} M", "Vielfaches von {n} Maschen"),
    plus=" plus {n}",
    more_chains=", dazu 1 für den Anschlag",
    rounds=(r"\bReihe(n?)\b", r"Runde\1"),
    how={
        Stitch.BLSC: "Feste Masche nur in das hintere Maschenglied der Masche darunter; das vordere bleibt frei.",
        Stitch.FLDC: "Stäbchen vor der Arbeit in das freie vordere Maschenglied der Masche zwei Reihen tiefer, die "
        "dieselbe Farbe hat; die Masche direkt dahinter auslassen.",
        Stitch.TOG_BACK: f"{_BOTH} hinter der Arbeit: {_THROUGH} Rückseite durch das freie hintere Maschenglied der "
        f"Masche zwei Reihen tiefer holen{{strand}} {_CLOSED}",
        Stitch.TOG_FRONT: f"{_BOTH} vor der Arbeit: {_THROUGH} Vorderseite durch das freie vordere Maschenglied der "
        f"Masche zwei Reihen tiefer holen {_CLOSED} Keine Masche wird ausgelassen.",
    },
    strand=", unter dem mitgeführten Faden",
    abbreviations=(
        ("GF", _COLOURS["MC"], r"\bGF\b"),
        ("KF", _COLOURS["CC"], r"\bKF\b"),
        ("Lm", "Luftmasche", r"\bLm\b"),
        ("M", "Masche", r"\bM\b"),
    ),
    meanings={
        Stitch.SC: "feste Masche",
        Stitch.BLSC: "feste Masche nur in das hintere Maschenglied",
        Stitch.FLDC: "Stäbchen in das vordere Maschenglied zwei Reihen tiefer",
        Stitch.TOG_BACK: "feste Masche und Stäbchen zusammen abgemascht, das Stäbchen hinter der Arbeit",
        Stitch.TOG_FRONT: "feste Masche und Stäbchen zusammen abgemascht, das Stäbchen vor der Arbeit",
    },
    notes_flat=(
        "In jeder Reihe liegt die Vorderseite vorn, und jede Reihe beginnt am {edge} Rand mit ihrer eigenen Farbe.",
        "Die erste Masche von Reihe 1 in die zweite Luftmasche ab der Nadel häkeln.",
        "Jede weitere Reihe mit 1 Luftmasche beginnen, die nicht als Masche zählt.",
    ),
    notes_flat_cut=(
        "Jede Reihe fest abschließen: 1 Luftmasche häkeln, den Faden abschneiden, dabei ein Fadenende lassen und "
        "durchziehen.",
    ),
    notes_flat_carried=(
        "Jede Reihe fest abschließen: 1 Luftmasche häkeln, die Schlinge groß ziehen, das Knäuel hindurchführen und "
        "festziehen.",
        "Dann den Faden oben an der Reihe entlang zu ihrer ersten Masche zurückführen; die nächste Reihe dieser Farbe "
        "wird über ihn gehäkelt. Den Faden abschneiden, wo die nächste Reihe dieser Farbe ein anderes Garn hat.",
    ),
    notes_round=(
        "In jeder Reihe liegt die Vorderseite vorn, und jede Reihe wird nach {towards} gehäkelt.",
        "Die erste Masche von Reihe 1 in die erste Luftmasche nach der Verbindung häkeln.",
        "Jede Reihe mit 1 Luftmasche beginnen, die nicht als Masche zählt, und am Ende mit einer Kettmasche in ihre "
        "erste Masche schließen.",
    ),
    notes_round_cut=("Nach dem Schließen den Faden abschneiden, dabei ein Fadenende lassen und durchziehen.",),
    notes_round_carried=(
        "Den Faden hängen lassen, bis die nächste Reihe seiner Farbe kommt. Ihn abschneiden, wo diese Reihe ein "
        "anderes Garn hat.",
    ),
    edges={"right": "rechten", "left": "linken"},
    towards={"right": "links", "left": "rechts"},
    firm_edges="{stitch} bei der ersten und letzten Masche einer Reihe durch beide Maschenglieder häkeln, nicht nur "
    "durch eines; so bleiben die Ränder fest.",
    last_row="In der letzten Reihe steht {stitch} anstelle des Stäbchens, da keine Reihe mehr folgt, die die Rückseite "
    "schließt.",
    fasten_off={
        "as they come": "Nach Reihe {n} alle Fäden abschneiden, sichern und vernähen.",
        "woven in": "Nach Reihe {n} alle Fäden abschneiden, sichern und vernähen.",
        "fringe": "Nach Reihe {n} den Faden sichern; die Fäden an beiden Enden der Reihen bleiben als Fransen hängen.",
        "enclosed": "Nach Reihe {n} den Faden sichern; die Fäden für die Umrandung hängen lassen, die sich über ihnen "
        "schließt.",
    },
    foundation_sc=("Lm-fM", "feste Maschen mit Luftmasche"),
    how_foundation_sc=_FOUNDATION_SC,
    note_foundation_sc=(
        "Luftmaschenanschlag und Reihe 1 werden in einem gehäkelt, was etwas dehnbar ist.",
        "Luftmaschenanschlag und Reihe 1 werden in einem gehäkelt, was etwas dehnbar ist. Ohne Verdrehen zur Runde "
        "schließen.",
    ),
    sizes="Größen: {names}.",
    sizes_note="Die Zahlen gelten für die Größen {names}. Eine einzelne Zahl gilt für alle; was eine 0 hat, wird in "
    "dieser Größe nicht gehäkelt.",
    for_size="Für Größe {name}, {said}",
    all_differ="{rows} sind je nach Größe verschieden: keine gerade Anzahl wiederholt sich von Größe zu Größe.",
    differs="{row} {n} ist je nach Größe verschieden: {why}.",
    why_steps="die Zahl der Schritte ist {told}",
    steps_of="{n} in Größe {name}",
    why_order="die Maschen kommen in Größe {other} in anderer Folge als in Größe {one}",
    one_as_many=(
        (r"\b(nächste|letzte) (M|Masche)\b", r"\1n 1 \2"),
        (r"\b1 Masche\b", "1 Maschen"),
    ),
    many_as_one=(
        (r"(?<!\))(nächste|letzte)n 1 M\b", r"\1 M"),
        (r"(?<!\))(nächste|letzte)n 1 Maschen\b", r"\1 Masche"),
    ),
)
