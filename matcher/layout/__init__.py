"""Groups to organizers: shape curves and the layouts behind them, free layouts, bounds on any layout, parts."""

from matcher.layout.bounds import Excluded, excluded_by, least_height
from matcher.layout.curves import curve, evened, realize
from matcher.layout.easing import eased
from matcher.layout.free import FreeAnswer, free
from matcher.layout.splitting import parts, singles
from matcher.layout.styles import Style, styles

__all__ = [
    "Excluded",
    "FreeAnswer",
    "Style",
    "curve",
    "eased",
    "evened",
    "excluded_by",
    "free",
    "least_height",
    "parts",
    "realize",
    "singles",
    "styles",
]
