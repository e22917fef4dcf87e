"""The offer on paper: for the customer what she gets and pays, for the maker how that comes about."""
