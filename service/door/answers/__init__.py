"""One module for each resource: from a request that was read to the answer's headers and bytes."""
