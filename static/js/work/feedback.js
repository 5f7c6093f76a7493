// What she feels and hears when a round is logged, where she asked for it and the device can.

const BUZZ_MS = { log: 40, undo: [30, 60, 30] };

/** A short buzz: "log" one, "undo" two. */
export function buzz(what) {
  navigator.vibrate?.(BUZZ_MS[what]);
}

/** Says the words aloud, instead of what is still being said. */
export function say(words) {
  if (!("speechSynthesis" in window) || !words) return;
  speechSynthesis.cancel();
  const utterance = new SpeechSynthesisUtterance(words);
  utterance.lang = document.documentElement.lang;
  speechSynthesis.speak(utterance);
}

// As they are read out: an abbreviation is otherwise spelled or mumbled.
const SAID = [
  [/\bRnds\b/g, "rounds"], [/\bRnd\b/g, "round"], [/\bsl st\b/gi, "slip stitch"], [/\bV-sts?\b/g, "V stitches"],
  [/\bch-(\d+) sps?\b/gi, "chain $1 spaces"], [/\bhdc\b/gi, "half double crochet"], [/\bhtr\b/gi, "half treble"],
  [/\bdtr\b/gi, "double treble"], [/\bsc\b/gi, "single crochet"], [/\bdc\b/gi, "double crochet"],
  [/\btr\b/gi, "treble"], [/\bch\b/gi, "chains"], [/\bsts\b/g, "stitches"], [/\bsps\b/g, "spaces"],
];

/** The next round as it is said: "Round 6. At its end 12 V stitches." */
export function spokenRound(view) {
  const name = view.word ? `${view.word} ${view.number}` : view.number;
  const said = view.count ? `${name}. At its end ${view.count}.` : `${name}.`;
  return SAID.reduce((words, [short, long]) => words.replace(short, long), said);
}
