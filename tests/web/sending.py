"""Forms as a person sends them: found on a page by their button, with all that stands in them."""

from __future__ import annotations

from httpx2 import Response
from starlette.testclient import TestClient

from tests.web.shown import Element, shown


def form_with(page: Element, button: str) -> Element:
    """The first form with a button of these words, or words that begin so."""
    for form in page.all("form"):
        if any(one.text.startswith(button) for one in form.all("button")):
            return form
    raise AssertionError(f"no form with the button {button!r} in: {page.text[:600]}")


def fields_of(form: Element) -> dict[str, str]:
    """What stands in the form's fields."""
    values: dict[str, str] = {}
    for one in form.inside:
        name = one.attributes.get("name", "")
        if not name:
            continue
        if one.tag == "textarea":
            values[name] = one.exact
        elif one.tag == "select":
            options = one.all("option")
            chosen = [option for option in options if "selected" in option.attributes] or options[:1]
            values[name] = chosen[0].attributes["value"]
        elif one.tag == "input" and one.attributes.get("type") in ("radio", "checkbox"):
            if "checked" in one.attributes:
                values[name] = one.attributes["value"]
        elif one.tag == "input":
            values[name] = one.attributes.get("value", "")
    return values


def send(client: TestClient, page: Element, button: str, **typed: str) -> Response:
    """Send the form with that button, with what is typed into it."""
    form = form_with(page, button)
    pressed = next(one for one in form.all("button") if one.text.startswith(button))
    address = pressed.attributes.get("formaction") or form.attributes["action"]
    method = (pressed.attributes.get("formmethod") or form.attributes.get("method", "get")).lower()
    values = fields_of(form) | typed
    if pressed.attributes.get("name"):
        values[pressed.attributes["name"]] = pressed.attributes["value"]
    if method == "get":
        return client.get(address, params=values)
    return client.post(address, data=values)


def look(client: TestClient, address: str, status: int = 200) -> Element:
    """The page at an address, redirects followed."""
    answer = client.get(address, follow_redirects=True)
    assert answer.status_code == status, answer.text[:500]
    return shown(answer.text)


def go_on(client: TestClient, answer: Response) -> Element:
    """The page that a form led to; it has to have been carried out."""
    assert answer.status_code == 303, shown(answer.text).text[:600]
    return look(client, answer.headers["location"])
