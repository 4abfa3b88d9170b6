"""
A crowd at the site at once, on this machine alone: ``python -m tests.load``.

It serves the demo by gunicorn, lets people read, practice, take exams, fill in check sheets and
look at staff pages, and then looks whether each thing that the site said was saved is there,
once, and whether the sums agree. It prints what it measured and ends with 1 if anything parts.
"""
