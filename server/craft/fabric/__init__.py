"""The fabric: a pattern worked stitch by stitch, and proved at every count."""

from server.craft.fabric.keeping import Cache, Caches
from server.craft.fabric.prove import Proof, ProofRow, prove, work
from server.craft.fabric.values import Fabric, Numbers, WorkedRound, WorkedSection

__all__ = [
    "Cache",
    "Caches",
    "Fabric",
    "Numbers",
    "Proof",
    "ProofRow",
    "WorkedRound",
    "WorkedSection",
    "prove",
    "work",
]
