"""The rules: what makes a picture unworkable, and what a maker should think about.

Each rule is a small value with a name, a sentence, a severity and a function from a motif to the squares it
minds, as a mask as seen. `check` gathers them into a report and never raises. Three rules of severity "error"
decide: a picture without one of their findings can be worked, and nothing else is impossible. All others are
"advice". Findings name row and stitch as a maker counts them and say what to do.
"""
