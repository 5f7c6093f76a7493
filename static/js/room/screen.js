// The screen: it shows the room as it is, and looks again when something happens there.

import { listen } from "./stream.js";
import { refresh } from "./regions.js";
import { keepTime } from "./timers.js";

const AGAIN_MS = 2000;
const screen = document.querySelector("[data-screen]");
let wanted = false, looking = false;

async function look() {
  wanted = true;
  if (looking) return;
  looking = true;
  while (wanted) {
    wanted = false;
    if (!(await refresh())) {
      wanted = true;
      await new Promise((done) => setTimeout(done, AGAIN_MS));
    }
  }
  looking = false;
}

keepTime(Number(screen.dataset.clock));
listen(screen.dataset.stream, Number(screen.dataset.number), look, () => {}, true);
