"""
The season report: one text with figures, as a page, as a PDF, and by command.

``gathering`` counts and keeps small counts back, ``text`` puts it into sentences,
``paper`` sets it on sheets. What it says is safe to hand on; the staff's own pages say more.
"""
