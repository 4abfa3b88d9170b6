"""
An invented fleet, made from one fixed seed, to try the site with.

The people, harbors and vessels do not exist. Their marks do: made-up answers were put
before the real grading, and nothing else gave a mark.
"""
