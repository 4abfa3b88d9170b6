"""Groups: made, changed and closed, and people moved between them."""
