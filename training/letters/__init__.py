"""Letters to the people who train: written by staff, and those that the site sends by itself."""
