"""What the site writes about itself: a line of JSON for each thing, and nothing personal in it."""
