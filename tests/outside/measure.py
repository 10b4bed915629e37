"""`swarfbook-measure` beside reference libraries, over drawn cases (fixed seed)."""

import math
import random
import unittest

import numpy
import pint
from scipy import stats
from udsoncan import Dtc
from uncertainties import ufloat
from vininfo import Vin

from ask import ask

CASES = 500


class Conformity(unittest.TestCase):
    """JCGM 106:2012, 7.2 and 8.3, with the normal distribution of SciPy."""

    def test_probability_within_limits(self):
        draw = random.Random(1)
        cases = []
        for n in range(CASES):
            low, high = sorted(draw.uniform(-5, 60) for _ in range(2))
            sides = [(low, high), (None, high), (low, None)][n % 3]
            cases.append((draw.uniform(-10, 70), 10 ** draw.uniform(-3, 1), *sides))
        said = ask(
            [{"ask": "probability", "value": y, "u": u, "low": a, "high": b} for y, u, a, b in cases]
        )
        for (y, u, low, high), ours in zip(cases, said):
            with self.subTest(y=y, u=u, low=low, high=high):
                above = 0 if high is None else stats.norm.sf(high, y, u)
                below = 0 if low is None else stats.norm.cdf(low, y, u)
                self.assertAlmostEqual(ours, 1 - above - below, delta=1e-9)

    def test_guard_band(self):
        draw = random.Random(2)
        cases = [(draw.uniform(0.5, 0.9999), 10 ** draw.uniform(-3, 1)) for _ in range(CASES)]
        said = ask([{"ask": "guard_band", "level": level, "u": u} for level, u in cases])
        for (level, u), ours in zip(cases, said):
            # Acklam's or another's quantile: eight digits are more than a meter has.
            self.assertAlmostEqual(ours, stats.norm.ppf(level) * u, delta=1e-7 * u)


class Electrical(unittest.TestCase):
    def test_meter_uncertainty_is_that_of_a_rectangle(self):
        """GUM 4.3.7: the spread of draws between the stated limits, by SciPy."""
        draw = random.Random(3)
        cases = []
        for _ in range(CASES):
            digit = 10.0 ** draw.randint(-3, 0)
            cases.append((draw.uniform(0, 3), draw.randint(1, 10), digit, draw.uniform(0, 400) * digit))
        keys = ("percent", "counts", "digit", "reading")
        said = ask([{"ask": "meter_u", **dict(zip(keys, case))} for case in cases])
        for (percent, counts, digit, reading), ours in zip(cases, said):
            half = percent / 100 * reading + counts * digit
            theirs = stats.uniform(loc=-half, scale=2 * half).std()
            self.assertAlmostEqual(ours, theirs, delta=1e-12 + 1e-9 * theirs)

    def test_copper_by_the_rule_of_234_5(self):
        """IEC 60028: resistance falls to nothing, along its line, at -234.5 °C."""
        draw = random.Random(4)
        cases = [(draw.uniform(-30, 140), draw.uniform(-30, 140)) for _ in range(CASES)]
        said = ask([{"ask": "copper", "from_c": a, "to_c": b} for a, b in cases])
        for (a, b), ours in zip(cases, said):
            theirs = numpy.interp(b, [-234.5, a, 1000], [0, 1, (1000 + 234.5) / (a + 234.5)])
            self.assertAlmostEqual(ours, theirs, delta=1e-9)

    def test_b_value_by_regression(self):
        """B is the slope of ln R over 1/T: SciPy's line through both points."""
        draw = random.Random(5)
        cases = []
        for _ in range(CASES):
            cold, hot = draw.uniform(-30, 40), draw.uniform(60, 140)
            cases.append(((cold, draw.uniform(2e3, 2e4)), (hot, draw.uniform(50, 1e3))))
        said = ask([{"ask": "b_value", "first": a, "second": b} for a, b in cases])
        for (a, b), ours in zip(cases, said):
            inverse = [1 / (point[0] + 273.15) for point in (a, b)]
            line = stats.linregress(inverse, [math.log(point[1]) for point in (a, b)])
            self.assertAlmostEqual(ours / line.slope, 1, delta=1e-9)

    def test_modified_z_with_the_median_absolute_deviation(self):
        """Iglewicz and Hoaglin 1993; SciPy's MAD scaled to the normal distribution."""
        draw = random.Random(6)
        cases = [[draw.gauss(5.3, 0.4) for _ in range(draw.randint(4, 12))] for _ in range(CASES)]
        said = ask([{"ask": "modified_z", "values": values} for values in cases])
        for values, ours in zip(cases, said):
            mad = stats.median_abs_deviation(values, scale="normal")
            for value, z in zip(values, ours):
                theirs = (value - numpy.median(values)) / mad
                # 0.6745 as the authors print it, beside all digits of the quantile.
                self.assertAlmostEqual(z, theirs, delta=2e-5 * abs(theirs) + 1e-12)


class Units(unittest.TestCase):
    """Every unit that can be typed, beside Pint's definitions (NIST SP 811)."""

    PINT = {
        "milliohm": ("milliohm", "ohm"),
        "kiloohm": ("kiloohm", "ohm"),
        "megaohm": ("megaohm", "ohm"),
        "millivolt": ("millivolt", "volt"),
        "kilohertz": ("kilohertz", "hertz"),
        "fahrenheit": ("degF", "degC"),
        "pound_force_foot": ("force_pound * foot", "newton * metre"),
        "pound_force_inch": ("force_pound * inch", "newton * metre"),
        "kilogram_force_metre": ("force_kilogram * metre", "newton * metre"),
        "millilitre": ("millilitre", "litre"),
        "us_quart": ("quart", "litre"),
        "us_gallon": ("gallon", "litre"),
        "imperial_pint": ("imperial_pint", "litre"),
        "imperial_quart": ("imperial_quart", "litre"),
        "centimetre": ("centimetre", "millimetre"),
        "inch": ("inch", "millimetre"),
        "mile": ("mile", "kilometre"),
    }

    def test_to_the_base_unit(self):
        registry = pint.UnitRegistry(autoconvert_offset_to_baseunit=True)
        draw = random.Random(7)
        cases = [(unit, draw.uniform(-50, 500)) for unit in self.PINT for _ in range(20)]
        said = ask([{"ask": "to_base", "unit": unit, "value": value} for unit, value in cases])
        for (unit, value), ours in zip(cases, said):
            typed, base = self.PINT[unit]
            theirs = registry.Quantity(value, typed).to(base).magnitude
            self.assertAlmostEqual(ours, theirs, delta=1e-9 * max(1, abs(theirs)), msg=unit)


class Workshop(unittest.TestCase):
    def test_adapter_keeps_the_torque_at_the_bolt(self):
        """Moments about the bolt, as vectors: the hand's force is square to the wrench."""
        draw = random.Random(8)
        cases = [
            (draw.uniform(5, 120), draw.uniform(150, 600), draw.uniform(10, 80), draw.uniform(0, 180))
            for _ in range(CASES)
        ]
        said = ask(
            [
                {
                    "ask": "adapter",
                    "wanted_nm": nm,
                    "adapter": {"lever_mm": lever, "adapter_mm": adapter, "angle_deg": angle},
                }
                for nm, lever, adapter, angle in cases
            ]
        )
        for (nm, lever, adapter, angle), ours in zip(cases, said):
            # The grip at the origin, the drive along x, the bolt beyond it.
            turn = math.radians(angle)
            bolt = numpy.array([lever + adapter * math.cos(turn), adapter * math.sin(turn)])
            force = numpy.array([0.0, 1.0])
            at_bolt = bolt[0] * force[1] - bolt[1] * force[0]
            self.assertAlmostEqual(ours, nm * lever / at_bolt, delta=1e-9 * nm)

    def test_stress_area(self):
        """ISO 898-1: a circle of the mean of pitch and minor diameter (ISO 724)."""
        threads = {"M5": 0.8, "M6": 1.0, "M8": 1.25, "M8x1": 1.0, "M10": 1.5, "M10x1.25": 1.25, "M12": 1.75}
        said = ask([{"ask": "stress_area", "thread": thread} for thread in threads])
        for (thread, pitch), ours in zip(threads.items(), said):
            diameter = float(thread[1:].split("x")[0])
            height = math.sqrt(3) / 2 * pitch
            pitch_diameter = diameter - 2 * 3 / 8 * height
            minor = diameter - 2 * 17 / 24 * height
            self.assertAlmostEqual(ours, math.pi / 4 * ((pitch_diameter + minor) / 2) ** 2, delta=0.02)

    def test_volume_correction(self):
        """ASTM D1250, table 54D's form; near the base its slope is the coefficient itself."""
        draw = random.Random(9)
        cases = [(draw.uniform(805, 950), draw.uniform(-30, 140)) for _ in range(CASES)]
        said = ask([{"ask": "volume_correction", "kg_m3": d, "celsius": t} for d, t in cases])
        for (density, celsius), ours in zip(cases, said):
            alpha = ufloat(0.6278, 0.00005) / density
            warmer = alpha * (celsius - 15)
            logarithm = -warmer * (1 + 0.8 * warmer)
            # Printed digits of K1 are the doubt that remains.
            delta = abs(logarithm.std_dev) + 1e-12
            self.assertAlmostEqual(math.log(ours), logarithm.nominal_value, delta=delta)


class Vehicle(unittest.TestCase):
    """49 CFR 565 beside vininfo; the numbers are drawn and belong to no car."""

    LETTERS = "ABCDEFGHJKLMNPRSTUVWXYZ0123456789"

    def drawn(self, seed):
        draw = random.Random(seed)
        for _ in range(CASES):
            text = [draw.choice(self.LETTERS) for _ in range(17)]
            text[8] = draw.choice("0123456789X")
            yield "".join(text)

    def test_check_digit(self):
        vins = list(self.drawn(10))
        said = ask([{"ask": "check_digit", "vin": vin} for vin in vins])
        for vin, ours in zip(vins, said):
            right = vin[:8] + ours + vin[9:]
            self.assertTrue(Vin(right).verify_checksum(check_year=False), right)
            if ours != vin[8]:
                self.assertFalse(Vin(vin).verify_checksum(check_year=False), vin)

    def test_model_years(self):
        vins = [vin for vin in self.drawn(11) if vin[9] not in "UZ0"]
        said = ask([{"ask": "model_years", "vin": vin, "latest": 2026} for vin in vins])
        for vin, ours in zip(vins, said):
            # The library leaves out years to come by its own clock.
            self.assertEqual(sorted(ours), sorted(y for y in Vin(vin).years if y <= 2026), vin)


class Codes(unittest.TestCase):
    def test_letters_and_bytes_both_ways(self):
        """SAE J2012 / ISO 15031-6: two bits of system, two of the first digit, three digits."""
        every = range(1, 0x10000, 7)
        said = ask([{"ask": "code_of", "bytes": f"{n:04X}"} for n in every])
        for n, code in zip(every, said):
            theirs = "PCBU"[n >> 14] + str(n >> 12 & 3) + f"{n & 0xFFF:03X}"
            self.assertEqual(code, theirs)
        back = ask([{"ask": "bytes_of", "code": code} for code in said])
        self.assertEqual([int(answer, 16) for answer in back], list(every))

    def test_status_bits(self):
        """ISO 14229-1 D.2, as udsoncan takes the byte apart."""
        names = (
            "test_failed",
            "test_failed_this_operation_cycle",
            "pending",
            "confirmed",
            "test_not_completed_since_last_clear",
            "test_failed_since_last_clear",
            "test_not_completed_this_operation_cycle",
            "warning_indicator_requested",
        )
        said = ask([{"ask": "status_bits", "byte": byte} for byte in range(256)])
        for byte, ours in enumerate(said):
            theirs = Dtc.Status.from_byte(byte)
            self.assertEqual(ours, [getattr(theirs, name) for name in names], hex(byte))


if __name__ == "__main__":
    unittest.main()
