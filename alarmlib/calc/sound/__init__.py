"""How loud a sounder is where somebody must hear it."""
