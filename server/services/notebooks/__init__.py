"""A maker's notebook: the shelf, her numbers, her log, the working page, the pair."""

from server.services.notebooks.carrying import Carried, carried, entry_values
from server.services.notebooks.countingin import Ahead, ahead, counted_in_to
from server.services.notebooks.desk import Desk, Version, along_of, noun, open_desk, piece_name
from server.services.notebooks.figures import hook_mm
from server.services.notebooks.finding import Asked, asked, found, likely_misses, log_found
from server.services.notebooks.logbook import DeviceEntry, Overtaken, Received, last_entry, log, receive
from server.services.notebooks.logs import Log, Logged
from server.services.notebooks.numbers import (
    HookChoice,
    SizeChoice,
    Trial,
    count_of_her_own,
    custom_words,
    hook_choice,
    hook_choices,
    next_trial,
    settle,
    size_named,
    sizes,
    suggested_hook_mm,
    trial,
    typed_hook_mm,
    typed_length_mm,
)
from server.services.notebooks.pairs import Glove, Pair, pair
from server.services.notebooks.places import current_piece, refresh
from server.services.notebooks.shapes import NewEntry
from server.services.notebooks.shelf import Shelf, ShelfPart, choose, open_shelf
from server.services.notebooks.slips import carried_slips
from server.services.notebooks.versions import Newer, move, newer
from server.services.notebooks.visits import SEEN_EVERY, mark_seen, seen_lately
from server.services.notebooks.working import Departure, TakeOut, Working, working

__all__ = [
    "SEEN_EVERY", "Ahead", "Asked", "Carried", "Departure", "Desk", "DeviceEntry", "Glove", "HookChoice",
    "Log", "Logged", "NewEntry", "Newer", "Overtaken", "Pair", "Received", "Shelf", "ShelfPart", "SizeChoice",
    "TakeOut", "Trial", "Version", "Working", "ahead", "along_of", "asked", "carried", "carried_slips",
    "choose", "count_of_her_own", "counted_in_to", "current_piece", "custom_words", "entry_values", "found",
    "hook_choice", "hook_choices", "hook_mm", "last_entry", "likely_misses", "log", "log_found",
    "mark_seen", "move", "newer", "next_trial", "noun", "open_desk", "open_shelf", "pair", "piece_name",
    "receive", "refresh", "seen_lately", "settle", "size_named", "sizes", "suggested_hook_mm", "trial",
    "typed_hook_mm", "typed_length_mm", "working",
]  # fmt: skip
