"""What a page says of levels, of the care of yarns and of dates, in German."""

from __future__ import annotations

LEVEL_WORDS: dict[str, str] = {
    "Basic. Only basic stitches, perhaps with simple increases and decreases. (Craft Yarn Council)": "Einfach. Nur Grundmaschen, vielleicht mit einfachen Zu- und Abnahmen. (Craft Yarn Council)",
    "Easy. Simple stitch patterns, colour work or shaping. (Craft Yarn Council)": "Leicht. Einfache Muster, Farbwechsel oder Formgebung. (Craft Yarn Council)",
    "Intermediate. More involved stitch patterns, colour work or shaping. (Craft Yarn Council)": "Mittel. Anspruchsvollere Muster, Farbwechsel oder Formgebung. (Craft Yarn Council)",
    "Complex. Several involved stitch patterns or techniques at the same time. (Craft Yarn Council)": "Schwierig. Mehrere anspruchsvolle Muster oder Techniken zugleich. (Craft Yarn Council)",
    "basic": "einfach",
    "easy": "leicht",
    "intermediate": "mittel",
    "complex": "schwierig",
}
"""How hard a pattern is."""

CARED_FOR: dict[str, str] = {
    "wash at {n} °C": "waschen bei {n} °C",
    "wash at {n} °C, mild": "Schonwäsche bei {n} °C",
    "wash at {n} °C, very mild": "Feinwäsche bei {n} °C",
    "wash by hand": "von Hand waschen",
    "do not wash": "nicht waschen",
    "any bleach": "jedes Bleichmittel erlaubt",
    "oxygen bleach only": "nur mit Sauerstoff bleichen",
    "do not bleach": "nicht bleichen",
    "tumble dry": "im Trockner trocknen",
    "tumble dry low": "im Trockner schonend trocknen",
    "do not tumble dry": "nicht im Trockner trocknen",
    "line dry": "auf der Leine trocknen",
    "drip dry": "tropfnass aufhängen",
    "dry flat": "liegend trocknen",
    "drip dry flat": "tropfnass liegend trocknen",
    "line dry in the shade": "im Schatten auf der Leine trocknen",
    "drip dry in the shade": "tropfnass im Schatten aufhängen",
    "dry flat in the shade": "liegend im Schatten trocknen",
    "drip dry flat in the shade": "tropfnass liegend im Schatten trocknen",
    "iron at up to {n} °C": "bügeln bis {n} °C",
    "do not iron": "nicht bügeln",
    "dry clean": "chemisch reinigen",
    "dry clean, mild": "schonend chemisch reinigen",
    "wet clean": "professionell nass reinigen",
    "wet clean, mild": "schonend professionell nass reinigen",
    "do not dry clean": "nicht chemisch reinigen",
}
"""How yarns are cared for."""
CARED_STEPS = ("wash", "bleach", "tumble", "dry", "iron", "professional")
"""The fields of a label that hold it."""

MONTH_WORDS: dict[str, str] = {
    "January": "Januar",
    "February": "Februar",
    "March": "März",
    "April": "April",
    "May": "Mai",
    "June": "Juni",
    "July": "Juli",
    "August": "August",
    "September": "September",
    "October": "Oktober",
    "November": "November",
    "December": "Dezember",
}
"""The months of a date."""
