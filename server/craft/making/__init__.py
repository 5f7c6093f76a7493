"""A maker's plan in her own numbers, the log of what she made, and the twin rules."""

from server.craft.fabric.values import Numbers
from server.craft.making.atround import RoundVerdict, verdict_at
from server.craft.making.differences import Difference
from server.craft.making.finding import FoundPlace, Told, found_place, place_groups
from server.craft.making.folding import Folding, PlaceInTime, fold, folding, in_force, place_in_time
from server.craft.making.held import Group
from server.craft.making.log import Change, Entry, Making, Measure, Mid, Note, Piece, Try, TryVerdict
from server.craft.making.misses import Miss, Misses, every_miss, misses
from server.craft.making.pace import Pace, pace
from server.craft.making.placing import Place, Planner, piece_plan, place
from server.craft.making.planning import plan, plan_to_dict
from server.craft.making.shapes import CountItem, Fit, Plan, PlanRound, PlanSection
from server.craft.making.sheets import CustomRule, Fact, Sheet, SheetLine, SheetSection, sheet
from server.craft.making.sheettext import sheet_text
from server.craft.making.trying import next_try, not_allowed
from server.craft.making.twins import AsMade, TwinRow, Verdict, VerdictState, as_made, verdict, verdict_state
from server.craft.making.within import after_repeat, after_step, stops

__all__ = [
    "AsMade", "Change", "CountItem", "CustomRule", "Difference", "Entry", "Fact", "Fit", "Folding",
    "FoundPlace", "Group", "Making", "Measure", "Mid", "Miss", "Misses", "Note", "Numbers", "Pace", "Piece",
    "Place", "PlaceInTime", "Plan", "PlanRound", "PlanSection", "Planner", "RoundVerdict", "Sheet",
    "SheetLine", "SheetSection", "Told", "Try", "TryVerdict", "TwinRow", "Verdict", "VerdictState",
    "after_repeat", "after_step", "as_made", "every_miss", "fold", "folding", "found_place", "in_force",
    "misses", "next_try", "not_allowed", "pace", "piece_plan", "place", "place_groups", "place_in_time",
    "plan", "plan_to_dict", "sheet", "sheet_text", "stops", "verdict", "verdict_at", "verdict_state",
]  # fmt: skip
