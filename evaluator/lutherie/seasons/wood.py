"""Wood and humidity: equilibrium moisture content and the change of size that follows from it.

Moisture: Wood Handbook, FPL-GTR-190 (2010), eq. 4-5, the two-hydrate form of Hailwood and Horrobin with the
coefficients in degrees Celsius (after Simpson 1973). Movement: the same book, eq. 13-2 and table 13-5; for a species
that the table lacks, its coefficient follows from its shrinkage from green to dry (eq. 4-9 with fibre saturation at 30
per cent). Species, finish, stress and the lag of weeks are not in it, so a movement is what time could bring at most.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from .. import ImpossibleError

FIBRE_SATURATION = 30.0
LINEAR_RANGE = (6.0, 14.0)  # per cent of moisture in which eq. 13-2 holds


@dataclass(frozen=True, slots=True)
class Species:
    """Change per per cent of moisture, as shares of size: radial and tangential; None where nothing was found."""

    say: str
    radial: float | None
    tangential: float | None
    source: str
    doubt: str = ""
    hardness_n: float | None = None


def equilibrium_moisture_percent(temperature_c: float, relative_humidity: float) -> float:
    """Moisture content (per cent of dry mass) that wood reaches at a temperature and a relative humidity of 0 to 1.

    The printed table runs from 5 to 95 per cent of humidity. Far outside room temperatures the coefficients turn
    negative: ImpossibleError.
    """
    t, h = temperature_c, relative_humidity
    w = 349 + 1.29 * t + 0.0135 * t * t
    k = 0.805 + 0.000736 * t - 0.00000273 * t * t
    k1 = 6.27 - 0.00938 * t - 0.000303 * t * t
    k2 = 1.91 + 0.0407 * t - 0.000293 * t * t
    kh = k * h
    if min(k, k1, k2) <= 0 or kh >= 1:
        raise ImpossibleError("the formula has no meaning at this temperature")
    bound = (k1 * kh + 2 * k1 * k2 * kh * kh) / (1 + k1 * kh + k1 * k2 * kh * kh)
    return 1800 / w * (kh / (1 - kh) + bound)


def coefficient_from_shrinkage(shrinkage_percent: float) -> float:
    """Change per per cent of moisture from total shrinkage, green to dry: (S / 30) / (100 - S * 20 / 30)."""
    return shrinkage_percent / FIBRE_SATURATION / (100 - shrinkage_percent * 20 / FIBRE_SATURATION)


def shrinkage_at_percent(total_shrinkage_percent: float, moisture_percent: float) -> float:
    """Shrinkage from green to a moisture content below fibre saturation: S (1 - x / 30)."""
    return total_shrinkage_percent * (1 - moisture_percent / FIBRE_SATURATION)


def change_mm(size_mm: float, coefficient: float, from_percent: float, to_percent: float) -> float:
    """Change of size for a change of moisture: D C (Mf - Mi); negative when it shrinks."""
    return size_mm * coefficient * (to_percent - from_percent)


_HANDBOOK = "Wood Handbook, FPL-GTR-190 (2010), table 13-5"
_DERIVED = "worked out from published total shrinkage, green to dry"

SPECIES: Mapping[str, Species] = {
    "norway_spruce": Species("Norway spruce (Picea abies)", 0.001335, 0.002891, _DERIVED),
    "sitka_spruce": Species("Sitka spruce (Picea sitchensis)", 0.00148, 0.00263, _HANDBOOK),
    "engelmann_spruce": Species("Engelmann spruce (Picea engelmannii)", 0.0013, 0.00248, _HANDBOOK),
    "sugar_maple": Species("Sugar maple (Acer saccharum)", 0.00165, 0.00353, _HANDBOOK, hardness_n=6_450),
    "bigleaf_maple": Species("Bigleaf maple (Acer macrophyllum)", 0.00126, 0.00248, _HANDBOOK),
    "european_maple": Species(
        "European maple, sycamore (Acer pseudoplatanus)",
        0.0015,
        0.0026,
        "middle of published differential swelling",
        "published values run from 0.0010 to 0.0020 radially and 0.0022 to 0.0030 tangentially",
    ),
    "ebony": Species(
        "Ebony (Diospyros crassiflora)",
        0.002265,
        0.003191,
        _DERIVED,
        "sources on its movement differ by about 40 per cent",
        14_320,
    ),
    "boxwood": Species(
        "European boxwood (Buxus sempervirens)",
        0.002558,
        0.004035,
        _DERIVED,
        "an older table has 15 per cent less movement, and some makers find it gentler on the box than maple, though "
        "tables measure it twice as hard",
        13_080,
    ),
    "rosewood": Species("East Indian rosewood (Dalbergia latifolia)", 0.000916, 0.002011, _DERIVED, hardness_n=14_100),
    "jujube": Species("Jujube (Ziziphus)", None, None, "no published shrinkage was found"),
    "black_willow": Species("Black willow (Salix nigra)", 0.00112, 0.00308, _HANDBOOK),
    "beech": Species("American beech (Fagus grandifolia)", 0.0019, 0.00431, _HANDBOOK),
    "black_walnut": Species("Black walnut (Juglans nigra)", 0.0019, 0.00274, _HANDBOOK),
}
