"""Staff pages over generated fleets, from a hundredth of the largest one up to all of it."""
