"""Work that takes longer than a page may: asked for on a page, done by a worker, and told."""
