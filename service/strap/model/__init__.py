"""What a strap is: the spec as given and filled, the job with its goods looked up, the pattern that comes of it."""
