"""Groups to organizers: shape curves and the layouts behind them, free layouts, bounds on any layout, parts."""

from matcher.layout.bounds import Excluded, excluded_by, least_height
from matcher.layout.curves import curve, evened, realize
from matcher.layout.free import FreeAnswer, free
from matcher.layout.splitting import parts

__all__ = ["Excluded", "FreeAnswer", "curve", "evened", "excluded_by", "free", "least_height", "parts", "realize"]
