"""What is printed: a pattern at true size on pages, and the bench sheet behind it."""
