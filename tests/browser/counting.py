"""Taps and fields counted as a person has them, on a phone."""


class Hand:
    """
    A person's thumb on ``page``.

    Each touch of a link, a button, a choice or a field is a tap; a list that opens takes two. A
    field is one that is typed into or chosen from. What is left as it is costs nothing.
    """

    def __init__(self, page):
        self.page, self.taps, self.fields = page, 0, 0

    def tap(self, found):
        found.tap()
        self.taps += 1

    def choose(self, found):
        """Choose one of several that are all in sight."""
        self.tap(found)
        self.fields += 1

    def type(self, found, text):
        self.tap(found)
        found.fill(text)
        self.fields += 1

    def pick(self, found, label):
        """Open a list and pick from it."""
        found.select_option(label=label)
        self.taps += 2
        self.fields += 1
