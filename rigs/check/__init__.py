"""
The check sheet: what an officer looks at on deck, step by step, and what comes of it.

``steps`` says what is asked and which requirements it lets judge; ``entry`` reads what
was written down; ``sheet`` has it judged; ``written`` is what a careful officer would
write down of a given rig; ``paper`` prints.
"""
