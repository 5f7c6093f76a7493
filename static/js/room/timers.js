// Timers that count down by the server's clock.

const LOW_S = 60;

/** Keeps every timer of the page going. `clock`: what the server's clock said when it made the page, ms. */
export function keepTime(clock) {
  const ahead = Date.now() - clock;
  const tick = () => {
    for (const left of document.querySelectorAll("[data-timer-ends]")) {
      const seconds = Math.max(0, Math.round((Number(left.dataset.timerEnds) - (Date.now() - ahead)) / 1000));
      left.textContent = `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
      left.closest(".room-timer")?.classList.toggle("room-timer--low", seconds <= LOW_S);
    }
  };
  tick();
  setInterval(tick, 500);
}

/** The words of a timer: "5 minutes for this round". */
export function timerWords(timer) {
  const minutes = Math.floor(timer.seconds / 60);
  return `${minutes} minute${minutes === 1 ? "" : "s"}${timer.words ? ` ${timer.words}` : ""}`;
}
