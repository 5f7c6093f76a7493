/* The pattern page beyond plain forms: marks behind the text, findings that move the caret, mends in place.
   The server's answer is the truth; a mark is shown only while the words it belongs to still stand where it says. */
"use strict";

(() => {
  const form = document.getElementById("editor");
  const field = document.getElementById("text");
  const marks = form?.querySelector(".paper-marks");
  const notReached = document.getElementById("not-reached");
  if (!form || !field || !marks) return;

  const said = document.createElement("p");
  said.className = "out-of-sight";
  said.setAttribute("role", "status");
  form.append(said);

  let findings = [];            // {line, column, length, words, severity, id} as of the last answer
  let sentText = field.value;   // the text that the shown answer is about
  let pendingText = field.value; // the text of the request under way

  /* ---- places in the text; columns count characters, not UTF-16 units ---- */
  const lineStart = (text, line) => {
    let at = 0;
    for (let n = 1; n < line; n += 1) {
      const end = text.indexOf("\n", at);
      if (end < 0) return text.length;
      at = end + 1;
    }
    return at;
  };
  const forward = (text, at, characters) => {
    for (let n = 0; n < characters && at < text.length; n += 1) at += text.codePointAt(at) > 0xffff ? 2 : 1;
    return at;
  };
  const range = (text, place) => {
    const from = forward(text, lineStart(text, place.line), place.column - 1);
    return [from, forward(text, from, place.length)];
  };
  const placeOf = (element) => ({
    line: Number(element.dataset.line),
    column: Number(element.dataset.column),
    length: Number(element.dataset.length),
  });

  const readFindings = () => {
    findings = [...document.querySelectorAll("[data-finding]")].map((element) => {
      const place = placeOf(element);
      return { ...place, words: sentText.slice(...range(sentText, place)), severity: element.dataset.severity, id: element.id };
    });
  };

  /* ---- the marked copy behind the text: same lines, same wrapping, numbers in the margin ---- */
  const drawn = new WeakMap(); // row: what it shows

  const draw = () => {
    const text = field.value;
    const standing = [];
    for (const finding of findings) {
      const [from, to] = range(text, finding);
      if (text.slice(from, to) === finding.words) standing.push({ ...finding, from, to });
    }
    // Only lines that are not drawn so already are drawn: a long pattern has thousands of them.
    const lines = text.split("\n");
    let at = 0;
    lines.forEach((line, index) => {
      const end = at + line.length;
      const here = standing.filter((finding) => finding.line === index + 1 || (finding.from < end && finding.to > at));
      const signs = here.map((finding) => [finding.from - at, finding.to - at, finding.id, finding.severity]);
      const key = JSON.stringify([line, signs]);
      const present = marks.children[index];
      if (!present || drawn.get(present) !== key) {
        const row = drawnLine(line, index + 1, at, here);
        drawn.set(row, key);
        if (present) present.replaceWith(row);
        else marks.append(row);
      }
      at = end + 1;
    });
    while (marks.children.length > lines.length) marks.lastElementChild.remove();
    marks.hidden = false;
  };

  const drawnLine = (line, number, start, standing) => {
    const row = document.createElement("div");
    row.className = "paper-line";
    row.append(lineNumber(number, standing.filter((finding) => finding.line === number)));
    let at = 0;
    for (const finding of standing) {
      const from = Math.max(finding.from - start, at);
      const to = Math.min(finding.to - start, line.length);
      if (to <= from || from >= line.length) continue;
      row.append(line.slice(at, from), marked(line.slice(from, to), finding.severity));
      at = to;
    }
    row.append(line.slice(at) || "\u200b");
    return row;
  };

  const lineNumber = (number, here) => {
    const cell = document.createElement(here.length ? "a" : "span");
    cell.className = "paper-number";
    cell.textContent = number;
    if (here.length) {
      const isError = here.some((finding) => finding.severity === "error");
      cell.classList.add(isError ? "paper-number--error" : "paper-number--warning");
      cell.href = `#${here[0].id}`;
      cell.tabIndex = -1; // the same links stand in the list beside the text
      cell.title = isError ? "to mend" : "to look at";
    }
    return cell;
  };

  const marked = (text, severity) => {
    const mark = document.createElement("mark");
    mark.className = `mark-${severity}`;
    mark.textContent = text;
    return mark;
  };

  /* ---- going to a place, and mending ---- */
  const go = (place) => {
    const [from, to] = range(field.value, place);
    field.focus({ preventScroll: true });
    field.setSelectionRange(from, to);
    const row = marks.children[place.line - 1];
    row?.scrollIntoView({ block: "center" });
  };

  const changed = () => {
    said.textContent = "The text has changed there. It is being read once more.";
    field.dispatchEvent(new Event("input", { bubbles: true }));
  };

  const put = (from, to, better) => {
    field.focus({ preventScroll: true });
    field.setSelectionRange(from, to);
    // Through the editing command, so that the browser's own undo takes it back.
    const done = better ? document.execCommand("insertText", false, better) : document.execCommand("delete");
    if (!done) {
      field.setRangeText(better, from, to, "end");
      field.dispatchEvent(new Event("input", { bubbles: true }));
    }
  };

  const mend = (item) => {
    const finding = findings.find((one) => one.id === item.id);
    const [from, to] = range(field.value, placeOf(item));
    const better = item.querySelector("[data-mend-text]").textContent;
    if (!finding || field.value.slice(from, to) !== finding.words) return changed();
    put(from, to, better);
    go({ line: finding.line, column: finding.column, length: [...better].length });
  };

  /* The line of a finding becomes words for the maker. */
  const makeNote = (item) => {
    const finding = findings.find((one) => one.id === item.id);
    const [from, to] = range(field.value, placeOf(item));
    if (!finding || field.value.slice(from, to) !== finding.words) return changed();
    const start = lineStart(field.value, finding.line);
    const at = start + field.value.slice(start).match(/^[^\S\n]*/)[0].length;
    put(at, at, "Note: ");
    go({ line: finding.line, column: at - start + 1, length: 5 });
  };

  /* A header line that is offered takes its place at the top. */
  const putLine = (button) => {
    const end = forward(sentText, 0, Number(button.closest("[data-offer]").dataset.length));
    if (field.value.slice(0, end) !== sentText.slice(0, end)) return changed();
    put(0, end, button.dataset.put);
    go({ line: 1, column: 1, length: 0 });
  };

  document.addEventListener("click", (event) => {
    const mendButton = event.target.closest("[data-mend]");
    const noteButton = event.target.closest("[data-note]");
    const lineButton = event.target.closest("[data-put]");
    const goLink = event.target.closest("[data-go]");
    if (mendButton) {
      event.preventDefault();
      mend(mendButton.closest("[data-finding]"));
    } else if (noteButton) {
      event.preventDefault();
      makeNote(noteButton.closest("[data-finding]"));
    } else if (lineButton) {
      event.preventDefault();
      putLine(lineButton);
    } else if (goLink) {
      event.preventDefault();
      go(placeOf(goLink.closest("[data-line]")));
    }
  });

  /* ---- what is sent, kept and said ---- */
  const showTrouble = (kind) => {
    for (const words of notReached.querySelectorAll("[data-says]")) words.hidden = words.dataset.says !== kind;
    notReached.hidden = !kind;
  };

  field.addEventListener("input", () => {
    draw();
    const example = form.querySelector("[name=example]");
    if (example) example.hidden = field.value.trim() !== ""; // it fills an empty field only
  });
  form.addEventListener("htmx:config:request", (event) => {
    const text = event.detail?.ctx?.request?.body?.get?.("text");
    pendingText = typeof text === "string" ? text.replaceAll("\r\n", "\n") : field.value;
  });
  document.addEventListener("htmx:after:swap", (event) => {
    if (event.detail?.ctx?.response?.status >= 400) return; // nothing was replaced; what happened is said elsewhere
    sentText = pendingText;
    readFindings();
    draw();
    showTrouble("");
    const summary = document.getElementById("understood")?.dataset.said ?? "";
    if (said.textContent !== summary) said.textContent = summary;
    for (const bar of document.querySelectorAll("[data-bar]")) bar.textContent = summary;
  });
  document.addEventListener("htmx:response:error", (event) => {
    showTrouble(event.detail?.ctx?.response?.status === 401 ? "signed-out" : "offline");
  });
  document.addEventListener("htmx:error", () => showTrouble("offline"));
  window.addEventListener("beforeunload", (event) => {
    if (sentText !== field.value && !notReached.hidden) event.preventDefault();
  });

  document.documentElement.classList.add("with-marks");
  readFindings();
  draw();
})();
