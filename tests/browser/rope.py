"""Where a place on the drawn footrope lies on the screen."""


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
