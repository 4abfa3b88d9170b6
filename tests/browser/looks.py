"""What can be told of a page by looking at it."""


def fits(page):
    """
    Return whether nothing makes ``page`` scroll sideways.

    Held against the room that there is for the page: a phone's ``innerWidth`` grows with
    what does not fit.
    """
    return page.evaluate(
        "document.documentElement.scrollWidth <= document.documentElement.clientWidth"
    )
