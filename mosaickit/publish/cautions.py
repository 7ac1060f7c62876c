"""What a maker is told to take care of, and where each caution comes from; a page prints those that concern it."""

HANDS_CAUTION = (
    "Your hands",
    "Rest often and briefly rather than seldom and long, sit with your arms supported, and stop when something hurts. "
    "Public health advice on repetitive strain (the British NHS among others) says the same.",
)
CHILDREN_CAUTIONS = (
    (
        "Cords and ties",
        "Put no cord, tie or drawstring at the neck or hood of anything that a child wears. In the United States "
        "16 CFR 1120 with ASTM F1816 treats such cords on outerwear as a substantial hazard; in Europe and the United "
        "Kingdom EN 14682:2014 limits cords on clothing up to the age of 14. Scarves, hats and gloves are outside it; "
        "give them the same care.",
    ),
    # the advice on cots and the numbers of the rules on small parts are from memory
    (
        "Babies and cots",
        "Health bodies advise against loose blankets in the cot of a sleeping baby. Bare strands and holes can catch "
        "small fingers: choose the reversible fabric or line the back.",
    ),
    (
        "Small parts",
        "Sew on no buttons, beads or other parts that could come off for a child under three (16 CFR 1501; EN 71-1).",
    ),
)
LOCAL_RULES = (
    "Rules differ",
    "These lines point to rules and do not replace them: what holds where you live and sell comes first.",
)
