"""Letters: a name, a date or a line of text as a motif.

`alphabets` holds the characters, `setting` sets them side by side in squares, `laying` lays them on their ground and
mends them, `confusing` tells which of them are then read as others, `lettering` is the verb.
"""
