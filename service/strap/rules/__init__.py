"""What a pattern must keep, each rule with its tightest place, and how a failed one is told."""
