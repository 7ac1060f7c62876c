"""Foundation, ends, fringe and border of a piece: how it begins and what is done when its last row is worked."""
