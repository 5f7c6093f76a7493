"""Several modules as one script: in order, each once, nothing lost; what it cannot read is said."""

from __future__ import annotations

import re

import pytest

from server.web.bundling import bundle
from server.web.modules import SCRIPTS, bundled, without_comments

MODULES = {
    "work/page.js": (
        'import { one, two as deux } from "./a.js";\nimport {\n  three,\n} from "../other/b.js";\n'
        "console.log(one, deux, three);\n"
    ),
    "work/a.js": (
        'import { three } from "../other/b.js";\n'
        "export const one = 1; // kept\nexport async function two() { return three; }\n"
    ),
    "other/b.js": "export class Four {}\nexport function three() { return 3; } /** @type {number} */\n",
}


def test_modules_stand_in_the_order_they_need_each_other() -> None:
    assert bundle("work/page.js", MODULES.__getitem__) == (
        "const m0 = (() => {\nclass Four {}\nfunction three() { return 3; } /** @type {number} */\n"
        "return { Four, three };\n})();\n"
        "const m1 = (() => {\nconst { three } = m0;\nconst one = 1; // kept\n"
        "async function two() { return three; }\nreturn { one, two };\n})();\n"
        "const m2 = (() => {\nconst { one, two: deux } = m1;\nconst { three } = m0;\n"
        "console.log(one, deux, three);\nreturn {  };\n})();\n"
    )


@pytest.mark.parametrize(
    "text",
    [
        "export default 1;\n",
        "export { a };\n",
        'import x from "./b.js";\n',
        'const x = await import("./b.js");\n',
    ],
)
def test_a_form_that_it_does_not_read(text: str) -> None:
    with pytest.raises(ValueError, match=r"a\.js: a bundle does not read"):
        bundle("a.js", {"a.js": text, "b.js": ""}.__getitem__)


def test_a_ring_of_imports() -> None:
    ring = {"a.js": 'import { b } from "./b.js";\n', "b.js": 'import { a } from "./a.js";\n'}
    with pytest.raises(ValueError, match=r"a\.js imports b\.js imports a\.js"):
        bundle("a.js", ring.__getitem__)


def test_our_own_scripts_are_read() -> None:
    """Every script that a page names is one that can be put together."""
    for path in bundled():
        made = bundle(path, lambda name: without_comments((SCRIPTS / name).read_text(encoding="utf-8")))
        assert not re.search(r"^(import|export)\b", made, re.MULTILINE)
