"""Technical editing: what an editor marks in a pattern before it is sold.

An editor reads and does not make: whatever the pattern says is held against what it says elsewhere, and against what
a pattern usually carries. `draft` is a pattern as it is read, whether it comes from a page (`of_page`) or from an
author's own text (`of_text`); the kinds of findings stand in `rows`, `terms_used`, `figures` and `carried`, each with
its source; `editing` gathers them into a report, and changes nothing.
"""
