"""How a requirement can come out, and what that is called."""

from rigs.words.say import gettext_lazy

PASS = "pass"
FAIL = "fail"
NOT_MEASURED = gettext_lazy("not measured")

MARKS = {PASS: "met", FAIL: "broken", NOT_MEASURED: NOT_MEASURED}
"""For trainees and on nets."""

SHEET_MARKS = {PASS: "inside", FAIL: "outside", NOT_MEASURED: NOT_MEASURED}
"""On an officer's check sheet: what was measured against a clause, never a conclusion of law."""

CANNOT_TELL = gettext_lazy("cannot tell")
"""On an officer's sheet, of what was told but does not settle it: it counts as not measured."""

CUSTOM_MARKS = {
    PASS: gettext_lazy("as is the custom"),
    FAIL: gettext_lazy("not as is the custom"),
    NOT_MEASURED: NOT_MEASURED,
}
"""What is done by custom can be neither met nor broken: no clause asks for it."""

FISHERY_MARKS = {
    PASS: gettext_lazy("under the standard"),
    FAIL: gettext_lazy("a warning sign"),
    NOT_MEASURED: NOT_MEASURED,
}
"""What a whole fishery is weighed by no single trip can meet or break."""
