"""Several of our scripts as one: a page's script with all that it imports, each module once, in the order in
which they need each other. On a telephone's network one file is there sooner than thirty, and far smaller.

It reads the plain forms that our own modules are written in, and says where one is written otherwise.
"""

from __future__ import annotations

import posixpath
import re
from collections.abc import Callable

IMPORT = re.compile(
    r'^import\s+(?:\{(?P<names>[^}]*)\}\s+from\s+)?"(?P<path>\.[^"]+)";[^\n]*\n', re.MULTILINE
)
EXPORT = re.compile(
    r"^export (?P<form>(?:async )?function\*?|class|const) (?P<name>[A-Za-z_$][\w$]*)", re.MULTILINE
)
LEFT_OVER = re.compile(r"^(?:import|export)\b[^\n]*|\bimport\s*\([^\n]*", re.MULTILINE)


def bundle(entry: str, read: Callable[[str], str]) -> str:
    """One script that does what the module `entry` does. `read` gives a module's text by its path.

    ValueError where a module imports in a ring, or is written in a form that this does not read.
    """
    order: list[str] = []
    texts: dict[str, str] = {}
    _follow(entry, read, texts, order, ())
    names = {path: f"m{number}" for number, path in enumerate(order)}
    return "".join(_wrapped(path, texts[path], names) for path in order)


def _follow(
    path: str, read: Callable[[str], str], texts: dict[str, str], order: list[str], above: tuple[str, ...]
) -> None:
    if path in above:
        raise ValueError(f"{' imports '.join((*above, path))}: modules of a bundle import in no ring")
    if path in texts:
        return
    texts[path] = read(path)
    for found in IMPORT.finditer(texts[path]):
        _follow(_beside(path, found["path"]), read, texts, order, (*above, path))
    order.append(path)


def _beside(path: str, relative: str) -> str:
    return posixpath.normpath(posixpath.join(posixpath.dirname(path), relative))


def _wrapped(path: str, text: str, names: dict[str, str]) -> str:
    """The module as a constant that has what it exports."""
    exported = [found["name"] for found in EXPORT.finditer(text)]
    body = EXPORT.sub(lambda found: f"{found['form']} {found['name']}", text)
    body = IMPORT.sub(lambda found: _taken(found, names[_beside(path, found["path"])]), body)
    other = LEFT_OVER.search(body)
    if other:
        raise ValueError(f"{path}: a bundle does not read {other[0]!r}")
    return f"const {names[path]} = (() => {{\n{body}return {{ {', '.join(exported)} }};\n}})();\n"


def _taken(found: re.Match[str], module: str) -> str:
    """`import { a, b as c } from "./x.js"` as `const { a, b: c } = x`."""
    if found["names"] is None:
        return ""
    names = [" ".join(each.split()).replace(" as ", ": ") for each in found["names"].split(",")]
    return f"const {{ {', '.join(each for each in names if each)} }} = {module};\n"
