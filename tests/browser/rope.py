"""The drawn footrope by finger: where its places lie, what hangs there, hanging more."""

from playwright.sync_api import expect

DROPPERS = "[data-board-strip] [role=slider]"


def spot(page, inches):
    """Bring a place on the rope into view; return where on the screen it is."""
    return page.evaluate(
        """(inches) => {
            const strip = document.querySelector("[data-board-strip]");
            const marks = JSON.parse(document.getElementById("board-marks").textContent).marks;
            const [first, last] = [marks[0].at, marks[marks.length - 1].at];
            const line = strip.querySelector(".board-line");
            const [x1, x2, y] = ["x1", "x2", "y1"].map((name) => Number(line.getAttribute(name)));
            const x = x1 + ((inches - first) * (x2 - x1)) / (last - first);
            strip.scrollIntoView({ block: "center", behavior: "instant" });
            strip.scrollTo({ left: x - strip.clientWidth / 2, behavior: "instant" });
            const box = strip.querySelector("svg").getBoundingClientRect();
            return { x: box.left + x, y: box.top + y };
        }""",
        inches,
    )


def tap(page, inches):
    """Tap a place on the rope with a finger."""
    at = spot(page, inches)
    page.touchscreen.tap(at["x"], at["y"])


def places(page):
    """Return where the drawn droppers hang, in inches, port to starboard."""
    droppers = page.locator(DROPPERS)
    return sorted(round(float(each.get_attribute("aria-valuenow"))) for each in droppers.all())


def expect_places(page, wanted):
    """Wait until droppers hang at ``wanted`` inches, port to starboard, and nowhere else."""
    page.wait_for_function(
        """([droppers, wanted]) => {
            const at = [...document.querySelectorAll(droppers)]
                .map((each) => Math.round(each.getAttribute("aria-valuenow")))
                .sort((a, b) => a - b);
            return at.join() === wanted.join();
        }""",
        arg=[DROPPERS, wanted],
    )


def hang(page, inches):
    """Tap a place where nothing hangs yet; return where the new dropper came to hang."""
    before = page.locator(DROPPERS).count()
    tap(page, inches)
    expect(page.locator(DROPPERS)).to_have_count(before + 1)
    return round(float(page.locator("[data-picked]").get_attribute("aria-valuenow")))


def hang_exactly(page, inches):
    """Hang a dropper at ``inches`` as a person does: a tap, then the buttons."""
    now = hang(page, inches)
    # A finger lands within a few inches.
    assert abs(inches - now) <= 3
    side, step = ("starboard", 1) if inches > now else ("port", -1)
    for at in range(now + step, inches + step, step) if now != inches else ():
        page.get_by_role("button", name=f"1 in to {side}").tap()
        expect(page.locator("[data-picked]")).to_have_attribute("aria-valuenow", str(at))
