"""The kinds of end that a strap may have: what length each takes, its pieces and features, and how it lies made up."""
