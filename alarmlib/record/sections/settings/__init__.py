"""What is entered in the control unit, and what was proved of it."""
