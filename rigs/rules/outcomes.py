"""How a requirement can come out, and what that is called."""

PASS = "pass"
FAIL = "fail"
NOT_MEASURED = "not measured"

MARKS = {PASS: "met", FAIL: "broken", NOT_MEASURED: NOT_MEASURED}
"""For trainees and on nets."""

SHEET_MARKS = {PASS: "inside", FAIL: "outside", NOT_MEASURED: NOT_MEASURED}
"""On an officer's check sheet: what was measured against a clause, never a conclusion of law."""

CUSTOM_MARKS = {PASS: "as is the custom", FAIL: "not as is the custom", NOT_MEASURED: NOT_MEASURED}
"""What is done by custom can be neither met nor broken: no clause asks for it."""

FISHERY_MARKS = {PASS: "under the standard", FAIL: "a warning sign", NOT_MEASURED: NOT_MEASURED}
"""What a whole fishery is weighed by no single trip can meet or break."""
