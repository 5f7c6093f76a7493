"""An along as a series: evenings and their calendar, its page for everyone, its hosts, the next season."""

from server.services.series import (
    announcing as announcing,
)
from server.services.series import (
    cohosts as cohosts,
)
from server.services.series import (
    evenings as evenings,
)
from server.services.series import (
    seasons as seasons,
)
from server.services.series import (
    waiting as waiting,
)
from server.services.series.announcing import Announced, PageForm, PageSettings
from server.services.series.calendars import calendar
from server.services.series.cohosts import Hosts, Invitation
from server.services.series.evenings import EveningForm, Set
from server.services.series.materials import PartNeeds, SetNeeds
from server.services.series.seasons import SeasonForm
from server.services.series.waiting import Waiting
from server.services.series.wallclock import Twice

__all__ = [
    "Announced", "EveningForm", "Hosts", "Invitation", "PageForm", "PageSettings", "PartNeeds", "SeasonForm",
    "Set", "SetNeeds", "Twice", "Waiting", "announcing", "calendar", "cohosts", "evenings", "seasons",
    "waiting",
]  # fmt: skip
