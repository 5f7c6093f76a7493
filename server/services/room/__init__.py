"""The live room of an evening: the host's place, what she says, hands, who is where; all of it a log."""

from server.services.room.counting import Heads, OwnCount, heads
from server.services.room.course import Course, Spot, Stop, course, hers, in_numbers
from server.services.room.hosting import (
    Hosted,
    announce,
    answer,
    close,
    go,
    hide,
    hosted,
    move,
    new_addresses,
    open_room,
    parts_of,
    set_timer,
    show_newest,
    take_off,
)
from server.services.room.keys import key_of, make_key, mark, same
from server.services.room.limits import HAND_MOST, SAY_MOST, TIMER_MINUTES_MOST, TIMER_WORDS_MOST
from server.services.room.log import (
    At,
    Passed,
    Present,
    newest,
    open_in,
    passed,
    present,
    state,
    values_of,
    version_text,
)
from server.services.room.making import (
    Hand,
    RaisedHand,
    Titles,
    Visited,
    hands_up,
    lower_hand,
    raise_hand,
    say_done,
    titles,
    visited,
)

__all__ = [
    "HAND_MOST", "SAY_MOST", "TIMER_MINUTES_MOST", "TIMER_WORDS_MOST", "At", "Course", "Hand", "Heads",
    "Hosted", "OwnCount", "Passed", "Present", "RaisedHand", "Spot", "Stop", "Titles", "Visited", "announce",
    "answer", "close", "course", "go", "hands_up", "heads", "hers", "hide", "hosted", "in_numbers", "key_of",
    "lower_hand", "make_key", "mark", "move", "new_addresses", "newest", "open_in", "open_room", "parts_of",
    "passed", "present", "raise_hand", "same", "say_done", "set_timer", "show_newest", "state", "take_off",
    "titles", "values_of", "version_text", "visited",
]  # fmt: skip
