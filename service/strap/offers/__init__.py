"""What of a design can be made, answered for many lengths and counts at once, as the solver would."""
