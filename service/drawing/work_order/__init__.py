"""A work order on paper: cover, goods, cut plan, one bench sheet, patterns, tags to cut out."""
