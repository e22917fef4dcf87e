"""Two versions of the service beside each other: asked the same, their answers compared."""
