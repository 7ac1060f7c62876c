"""What a tester says of the piece she made, as a value and as a file, and the edition of the design it is about."""
