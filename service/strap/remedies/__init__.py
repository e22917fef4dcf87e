"""Small changes to a refused spec that make it one that can be made."""
