"""What a first visit to the working page costs over the wire, and a second one."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

import pytest
from fastapi import FastAPI
from playwright.sync_api import Browser
from sqlalchemy import Engine
from starlette.types import Message, Receive, Scope, Send

from server.storage.sessions import writing
from tests.browser.conftest import Site
from tests.services.story import Maker, make_along

# Bytes: headers and bodies of all answers, those to the service worker too.
FIRST_VISIT_MOST = 100_000
AGAIN_MOST = 20_000


class Counted:
    """An application, and how many bytes it has answered by path."""

    def __init__(self, app: FastAPI) -> None:
        self.app = app
        self.bytes: Counter[str] = Counter()

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        async def count(message: Message) -> None:
            for name, value in message.get("headers", ()):
                self.bytes[scope["path"]] += len(name) + len(value) + len(": \r\n")
            self.bytes[scope["path"]] += len(message.get("body", b""))
            await send(message)

        await self.app(scope, receive, count)


@pytest.fixture
def counted(app: FastAPI) -> Counted:
    return Counted(app)


@pytest.fixture
def counted_site(counted: Counted) -> Iterator[Site]:
    site = Site(counted)
    yield site
    site.stop()


def test_a_first_visit_is_light(
    browser: Browser, counted: Counted, counted_site: Site, engine: Engine
) -> None:
    with writing(engine) as session:
        part_id = make_along(session)[1]
        maker = Maker(session, part_id)
        maker.settle(28, "medium")
        maker.make(1, 3, 4, 2)
        maker.work(2, 4)
    context = browser.new_context(base_url=counted_site.url, viewport={"width": 390, "height": 844})
    context.add_cookies([{"name": "evenhand_notebooks", "value": maker.secret, "url": counted_site.url}])
    page = context.new_page()
    page.goto(f"/notebook/{part_id}/piece/2", wait_until="networkidle")
    page.wait_for_timeout(3000)  # what the service worker fetches on its own comes later
    first = Counter(counted.bytes)
    shown = "\n".join(f"{size:8} {path}" for path, size in first.most_common())
    assert 20_000 < first.total() <= FIRST_VISIT_MOST, f"{first.total()} bytes\n{shown}"
    counted.bytes.clear()
    page.goto(f"/notebook/{part_id}/piece/1", wait_until="networkidle")
    again = "\n".join(f"{size:8} {path}" for path, size in counted.bytes.most_common())
    assert counted.bytes.total() <= AGAIN_MOST, again
    print(f"first {first.total()} bytes\n{shown}\nagain {counted.bytes.total()} bytes\n{again}")
    context.close()
