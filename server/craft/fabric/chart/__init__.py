"""The crochet chart of a fabric, as SVG."""

from server.craft.fabric.chart.panels import Layout
from server.craft.fabric.chart.svg import chart, strip_of_round
from server.craft.fabric.chart.words import Hand

__all__ = ["Hand", "Layout", "chart", "strip_of_round"]
