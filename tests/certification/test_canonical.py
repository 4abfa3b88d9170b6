"""The canonical JSON that is signed, against the examples of RFC 8785 (from memory)."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rfc8785 import dumps as canonical

from training.certification.strict_json import read_strictly

values = st.recursive(
    st.none() | st.booleans() | st.integers(-(2**53) + 1, 2**53 - 1) | st.text(),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(), inner, max_size=4),
    max_leaves=12,
)


def test_text_and_literals_of_the_rfc():
    # Section 3.2.2.
    value = {
        "numbers": [333333333.33333329, 1e30, 4.50, 2e-3, 0.000000000000000000000000001],
        "string": "€$\u000f\u000aA'\u0042\u0022\u005c\\\"/",
        "literals": [None, True, False],
    }
    expected = (
        '{"literals":[null,true,false],'
        '"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],'
        '"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'
    )
    assert canonical(value) == expected.encode()


def test_order_of_keys_of_the_rfc():
    # Section 3.2.3: by UTF-16 units, so the face (a surrogate pair) precedes the dalet.
    value = {
        "€": "Euro Sign",
        "\r": "Carriage Return",
        "\ufb33": "Hebrew Letter Dalet With Dagesh",
        "1": "One",
        "😀": "Emoji: Grinning Face",
        "\u0080": "Control",
        "ö": "Latin Small Letter O With Diaeresis",
    }
    assert list(json.loads(canonical(value)).values()) == [
        "Carriage Return",
        "One",
        "Control",
        "Latin Small Letter O With Diaeresis",
        "Euro Sign",
        "Emoji: Grinning Face",
        "Hebrew Letter Dalet With Dagesh",
    ]


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0, "0"),
        (-7, "-7"),
        (2**53 - 1, "9007199254740991"),
        ("\b\t\n\f\r\x1f\x7f\u2028", '"\\b\\t\\n\\f\\r\\u001f\x7f\u2028"'),
        ([], "[]"),
        ({}, "{}"),
        ({"b": [1, {"d": 1, "c": 2}], "a": ""}, '{"a":"","b":[1,{"c":2,"d":1}]}'),
    ],
)
def test_forms(value, text):
    assert canonical(value) == text.encode()


@given(values)
def test_what_is_written_reads_back_and_is_written_alike(value):
    written = canonical(value)
    assert read_strictly(written) == value
    assert canonical(json.loads(written)) == written


@pytest.mark.parametrize(
    "value",
    [
        float("nan"),
        float("inf"),
        2**53,
        -(2**53),
        {1: "a"},
        {"a": {2}},
        "\ud800",
        {"\udfff": 1},
        b"bytes",
    ],
)
def test_what_has_no_form_is_refused(value):
    with pytest.raises(ValueError, match="."):
        canonical(value)


@pytest.mark.parametrize(
    "text",
    [
        '{"a":1,"a":2}',
        '[{"b":{"a":1,"a":1}}]',
        "NaN",
        "[-Infinity]",
        "[0.5]",
        "1e0",
        "{",
        b"\xff",
        "",
    ],
)
def test_strict_reading_refuses(text):
    with pytest.raises(ValueError, match="."):
        read_strictly(text)
