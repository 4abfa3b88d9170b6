"""What a module says to people without having it marked for translation."""

import ast

from .prose import is_prose

MARKS = {"_", "gettext", "gettext_lazy", "ngettext", "ngettext_lazy"}

# fmt: off
# Calls whose texts are names, patterns, formats or addresses.
_NAMES = {
    "getattr", "hasattr", "setattr", "compile", "reverse", "redirect", "render", "path",
    "re_path", "get_model", "TypeVar", "getLogger", "debug", "info", "exception", "strftime",
    "strptime", "date_format", "search", "match", "fullmatch", "sub", "split", "findall",
    "encode", "decode", "open", "loads", "Random", "import_module", "select_related",
    "prefetch_related", "values", "values_list", "order_by", "defer", "only", "Index", "execute",
    "startswith", "endswith", "removeprefix", "removesuffix", "replace", "count", "index",
    "strip", "lstrip", "rstrip", "partition", "rpartition", "Path", "glob", "render_to_string",
    "get_template", "ImproperlyConfigured", "NotImplementedError", "AttributeError",
    "ImportError", "RuntimeError", "AssertionError",
}
# Arguments and settings by name that are none of a visitor's business.
_NAMED = {
    "name", "related_name", "template", "template_name", "content_type", "key", "slug",
    "css_class", "field", "fields", "to", "app_label", "model", "method", "mode", "encoding",
    "sep", "ordering", "dest", "metavar", "format", "level", "autocomplete", "inputmode",
    "filename", "id", "role", "anchor", "pattern", "svgclass", "default", "class", "type",
    "enterkeyhint", "__all__", "list_display", "app_name", "Content-Disposition", "Content-Type",
    "Cache-Control",
}
# fmt: on
_CHOICES = {"TextChoices", "IntegerChoices", "Enum", "StrEnum"}
_LOGS = {"re", "log", "logger", "logging"}


def _called(call):
    """Return the last name of what is called."""
    return getattr(call.func, "id", getattr(call.func, "attr", ""))


class _Finder(ast.NodeVisitor):
    def __init__(self):
        self.found = []

    def _text(self, node, text):
        if is_prose(text):
            self.found.append((node.lineno, text))

    def visit_Constant(self, node):
        if isinstance(node.value, str):
            self._text(node, node.value)

    def visit_JoinedStr(self, node):
        parts = [each.value if isinstance(each, ast.Constant) else "{}" for each in node.values]
        self._text(node, "".join(parts))
        for each in node.values:
            if isinstance(each, ast.FormattedValue):
                self.visit(each.value)

    def visit_Expr(self, node):
        if not isinstance(node.value, ast.Constant):  # a docstring is for developers
            self.generic_visit(node)

    def visit_Call(self, node):
        name = _called(node)
        owner = getattr(getattr(node.func, "value", None), "id", "")
        if name in MARKS:
            return
        self.visit(node.func)
        if name not in _NAMES and owner not in _LOGS:
            for each in node.args:
                self.visit(each)
        for each in node.keywords:
            self.visit(each)

    def visit_keyword(self, node):
        if node.arg not in _NAMED:
            self.visit(node.value)

    def visit_Assign(self, node):
        if not any(getattr(target, "id", "") in _NAMED for target in node.targets):
            self.visit(node.value)

    def visit_AnnAssign(self, node):
        if node.value is not None and getattr(node.target, "id", "") not in _NAMED:
            self.visit(node.value)

    def visit_ClassDef(self, node):
        bases = {getattr(base, "attr", getattr(base, "id", "")) for base in node.bases}
        for each in node.body:
            if bases & _CHOICES and isinstance(each, ast.Assign):
                # The last word of a choice is its label, the others are kept as they are.
                each = each.value.elts[-1] if isinstance(each.value, ast.Tuple) else ast.Pass()
            self.visit(each)

    def visit_Dict(self, node):
        for key, value in zip(node.keys, node.values, strict=True):
            if getattr(key, "value", "") not in _NAMED:
                self.visit(value)

    def visit_Subscript(self, node):
        self.visit(node.value)

    def visit_FunctionDef(self, node):
        for each in [*node.args.defaults, *node.args.kw_defaults, *node.body]:
            if each is not None:
                self.visit(each)

    def _skip(self, node):
        """What is compared or asserted is not shown."""

    visit_Compare = visit_Assert = visit_match_case = _skip


def unmarked(source):
    """Yield (line, text) of each text in ``source`` for people that is not marked."""
    finder = _Finder()
    finder.visit(ast.parse(source))
    return finder.found
