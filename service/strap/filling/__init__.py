"""From a spec as it was given to a job: what was left unsaid is said, ids are looked up, limits are kept."""
