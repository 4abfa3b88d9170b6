"""A page's form read and filled in, as somebody who guesses would."""

from html.parser import HTMLParser

TEXTS = ("8 ft", "16 ft", "3/8 in", "12")


class Form(HTMLParser):
    """The first form of a page, ``html``, that is posted and has a field besides hidden ones."""

    def __init__(self, html):
        super().__init__()
        self.forms, self._open, self._select, self._area = [], None, None, None
        self.feed(html)

    def handle_starttag(self, tag, attrs):
        attrs = dict(attrs)
        if tag == "form" and (attrs.get("method") or "").lower() == "post":
            self._open = {"action": attrs.get("action") or "", "fields": []}
            self.forms.append(self._open)
        if self._open is None:
            return
        name = attrs.get("name")
        if tag == "input" and name:
            kind = (attrs.get("type") or "text").lower()
            self._open["fields"].append((name, kind, attrs.get("value") or ""))
        elif tag == "select":
            self._select = name
        elif tag == "option" and self._select and attrs.get("value"):
            self._open["fields"].append((self._select, "option", attrs["value"]))
        elif tag == "textarea" and name:
            self._open["fields"].append((name, "textarea", ""))

    def handle_endtag(self, tag):
        if tag == "form":
            self._open = None
        elif tag == "select":
            self._select = None

    def filled(self, rng, holding):
        """
        Return (action, fields) of the form that has a field called ``holding``, filled in.

        Of what can be chosen one is; what is typed are lengths. Raise LookupError if none has it.
        """
        for form in self.forms:
            if any(name == holding for name, *_ in form["fields"]):
                return form["action"], self._answers(form["fields"], rng)
        raise LookupError(f"No form of the page has a field called {holding}.")

    def _answers(self, fields, rng):
        choices, answers = {}, {}
        for name, kind, value in fields:
            if kind in ("radio", "option"):
                choices.setdefault(name, []).append(value)
            elif kind == "hidden":
                answers[name] = value
            elif kind == "checkbox":
                if rng.random() < 0.5:
                    answers[name] = value or "on"
            elif kind not in ("submit", "button", "file"):
                answers[name] = rng.choice(TEXTS)
        return answers | {name: rng.choice(values) for name, values in choices.items()}
