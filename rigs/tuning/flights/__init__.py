"""
A table of flights: what changes do to invented nets that fly too low, too high or lopsided.

A flight with its spread takes minutes, too long for a page, so all are flown beforehand by
``python -m tests.flights`` and kept as data, one file a net. ``nets`` are the nets and what
ails them, ``mends`` the changes, ``tried`` which of them are flown, ``table`` reads the data,
and ``mended`` says by a rule set whether a change mends its net. No rule is in the table.
"""
