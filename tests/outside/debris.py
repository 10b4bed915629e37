"""`swarfbook-debris` beside scikit-image, OpenCV and SciPy.

Pieces are those of the open pictures that scikit-image ships inside its wheel
(`skimage.data`, each with its source and licence there): nothing is downloaded.
All tolerances are of pixels: our outline runs along pixel edges, OpenCV's through
pixel centres, scikit-image's perimeter counts steps between pixels.
"""

import csv
import pathlib
import random
import unittest

import cv2
import numpy
import skimage
from scipy import ndimage, stats
from skimage import color, data, filters, measure, transform

import ask as door


# The longest piece that a phone photo shows: 6 mm at 20 px a mm.
LONGEST_PX = 120


def ask(questions):
    return door.ask(questions, example="ask_debris")


def pictures():
    """Masks of many shapes: coins, cells, letters, a horse, blobs of threshold noise."""
    for name in ("coins", "page", "camera", "text", "moon"):
        picture = getattr(data, name)()
        bright = picture > filters.threshold_otsu(picture)
        yield name, bright if name in ("coins", "moon") else ~bright
    yield "horse", ~data.horse().astype(bool)
    yield "binary_blobs", data.binary_blobs(length=256, rng=1)


def rows(mask):
    return ["".join("#" if on else "." for on in row) for row in mask]


def pieces(least_px=30):
    """Each component of each picture, alone in a frame of its own, holes filled."""
    for name, mask in pictures():
        for region in measure.regionprops(measure.label(mask, connectivity=2)):
            if region.area >= least_px:
                # A hole is closed at its corners, as the piece is joined at them.
                yield name, numpy.pad(ndimage.binary_fill_holes(region.image), 1)


class Components(unittest.TestCase):
    def test_the_same_components_as_two_libraries(self):
        """Corners join (8-connectivity): area and box of every component, exactly."""
        found = 0
        for name, mask in pictures():
            with self.subTest(picture=name):
                (ours,) = ask([{"ask": "components", "rows": rows(mask)}])
                labels = measure.label(mask, connectivity=2)
                theirs = sorted(
                    [int(r.area), r.bbox[1], r.bbox[0], r.bbox[3], r.bbox[2]]
                    for r in measure.regionprops(labels)
                )
                self.assertEqual(sorted(ours), theirs)
                n, _, figures, _ = cv2.connectedComponentsWithStats(
                    mask.astype(numpy.uint8), connectivity=8
                )
                boxes = sorted(
                    [int(a), int(x), int(y), int(x + w), int(y + h)]
                    for x, y, w, h, a in figures[1:n]
                )
                self.assertEqual(sorted(ours), boxes)
                found += len(ours)
        self.assertGreater(found, 500)


class Shapes(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.pieces = list(pieces())
        cls.ours = ask([{"ask": "shape", "rows": rows(mask)} for _, mask in cls.pieces])

    def each(self, longest_px=float("inf")):
        self.assertGreater(len(self.pieces), 150)
        for (name, mask), ours in zip(self.pieces, self.ours):
            if ours["feret_max"] > longest_px:
                continue
            (region,) = measure.regionprops(mask.astype(numpy.uint8))
            contours, _ = cv2.findContours(
                mask.astype(numpy.uint8), cv2.RETR_EXTERNAL, cv2.CHAIN_APPROX_NONE
            )
            yield ours, mask, region, max(contours, key=len)

    def test_area_is_the_number_of_pixels(self):
        for ours, mask, _, _ in self.each():
            self.assertEqual(ours["area"], mask.sum())

    def test_thinning_the_outline_keeps_the_area(self):
        """Within a fifth of a pixel all round, for pieces as long as a photo's are: an outline has at
        most 40 corners, and can't follow a longer ragged one."""
        for ours, mask, region, _ in self.each(LONGEST_PX):
            self.assertAlmostEqual(
                ours["thinned_area"], mask.sum(), delta=0.2 * region.perimeter_crofton
            )

    def test_feret_maximum(self):
        """OpenCV: the farthest two corners of the pixels, exactly; scikit-image 0.26 measures
        through pixel centres widened by half a pixel: within 1.5 px."""
        for ours, mask, region, _ in self.each():
            ys, xs = numpy.nonzero(mask)
            corners = numpy.concatenate(
                [numpy.stack([xs + dx, ys + dy], 1) for dx in (0, 1) for dy in (0, 1)]
            ).astype(numpy.float32)
            hull = cv2.convexHull(corners)[:, 0].astype(float)
            farthest = numpy.linalg.norm(hull[:, None] - hull[None], axis=2).max()
            self.assertAlmostEqual(ours["feret_max"], farthest, delta=1e-9)
            self.assertAlmostEqual(ours["feret_max"], region.feret_diameter_max, delta=1.5)
            self.assertAlmostEqual(ours["hull_area"], cv2.contourArea(hull.astype(numpy.float32)), delta=1e-2)

    def test_feret_minimum(self):
        """The narrowest of all directions, by turning the hull in steps of a tenth of a degree: the
        steps miss the minimum by less than its length times half a step."""
        angles = numpy.radians(numpy.arange(0, 180, 0.1))
        for ours, mask, _, _ in self.each():
            ys, xs = numpy.nonzero(mask)
            corners = numpy.concatenate(
                [numpy.stack([xs + dx, ys + dy], 1) for dx in (0, 1) for dy in (0, 1)]
            )
            hull = cv2.convexHull(corners.astype(numpy.float32))[:, 0].astype(float)
            across = hull @ numpy.stack([numpy.cos(angles), numpy.sin(angles)])
            width = (across.max(0) - across.min(0)).min()
            self.assertLessEqual(ours["feret_min"], width + 1e-9)
            self.assertAlmostEqual(
                ours["feret_min"], width, delta=ours["feret_max"] * numpy.radians(0.05) + 1e-9
            )

    def test_perimeter(self):
        """Beside scikit-image's Crofton perimeter (four directions) and OpenCV's arc length of the
        contour through pixel centres, of which half a pixel all round is missing (pi px). These are
        estimators of one length that differ by some 6 % themselves. Ours keeps some of the stairs of
        small masks: from 0.85 to 1.4 times theirs, from 200 px of area on to 1.25 times, and there in
        the median within 8 %."""
        ratios = []
        for ours, mask, region, contour in self.each(LONGEST_PX):
            most = 1.25 if mask.sum() >= 200 else 1.4
            theirs = [region.perimeter_crofton, cv2.arcLength(contour, True) + numpy.pi]
            for length in theirs:
                self.assertGreater(ours["perimeter"], 0.85 * length)
                self.assertLess(ours["perimeter"], most * length)
            if mask.sum() >= 200:
                ratios.append(ours["perimeter"] / numpy.mean(theirs))
        self.assertGreater(len(ratios), 30)
        self.assertAlmostEqual(numpy.median(ratios), 1, delta=0.08)

    def test_form_factor(self):
        """4 pi A / P squared (ISO 9276-6), beside scikit-image's area and Crofton perimeter, from
        200 px of area on: what the perimeter's tolerance comes to, twice."""
        off = []
        for ours, mask, region, _ in self.each(LONGEST_PX):
            if mask.sum() >= 200:
                form = 4 * numpy.pi * ours["area"] / ours["perimeter"] ** 2
                theirs = 4 * numpy.pi * region.area / region.perimeter_crofton**2
                self.assertGreater(form / theirs, 1.25**-2)
                self.assertLess(form / theirs, 0.85**-2)
                off.append(form / theirs)
        self.assertGreater(len(off), 30)
        self.assertAlmostEqual(numpy.median(off), 1, delta=0.16)

    def test_solidity(self):
        """Area over hull. scikit-image's hull is of pixels, ours of their corners: within one pixel
        all round."""
        for ours, mask, region, _ in self.each():
            delta = region.perimeter_crofton / region.area_convex
            self.assertAlmostEqual(ours["area"] / ours["hull_area"], region.solidity, delta=delta)


class Colour(unittest.TestCase):
    def test_the_published_pairs(self):
        """The 34 pairs of Sharma, Wu and Dalal, Color Res. Appl. 30:21 (2005), table 1, and
        scikit-image's own formula on them."""
        file = pathlib.Path(__file__).parents[2] / "core/debris/tests/ciede2000-34-pairs.csv"
        pairs = [
            [float(v) for v in row]
            for row in csv.reader(file.read_text().splitlines())
            if row and row[0].lstrip("-")[0].isdigit()
        ]
        self.assertEqual(len(pairs), 34)
        values = [row[-7:] for row in pairs]
        said = ask([{"ask": "ciede2000", "a": v[:3], "b": v[3:6]} for v in values])
        for v, ours in zip(values, said):
            self.assertAlmostEqual(ours, v[6], delta=5e-5)
            self.assertAlmostEqual(ours, color.deltaE_ciede2000(v[:3], v[3:6]), delta=1e-6)

    def test_drawn_pairs(self):
        draw = random.Random(1)
        pairs = [
            [[draw.uniform(0, 100), draw.uniform(-90, 90), draw.uniform(-90, 90)] for _ in "ab"]
            for _ in range(2000)
        ]
        said = ask([{"ask": "ciede2000", "a": a, "b": b} for a, b in pairs])
        for (a, b), ours in zip(pairs, said):
            self.assertAlmostEqual(ours, color.deltaE_ciede2000(a, b), delta=1e-9)


class Counts(unittest.TestCase):
    def test_limits_of_the_length_classes(self):
        """ISO 16232:2018, table of particle length classes (B to N, lower limit included)."""
        limits = dict(zip("BCDEFGHIJKLMN", (5, 15, 25, 50, 100, 150, 200, 400, 600, 1000, 1500, 2000, 3000)))
        cases, expected = [], []
        for (name, low), above in zip(limits.items(), [*list(limits.values())[1:], 50_000]):
            for um in (low, (low + above) / 2, above - 0.01):
                cases.append(um / 1000)
                expected.append(name)
        said = ask([{"ask": "size_class", "feret_max_mm": mm} for mm in [*cases, 0.0049]])
        self.assertEqual(said, [*expected, None])

    def test_intervals_of_a_count(self):
        """Garwood, Biometrika 28:437 (1936): by SciPy's chi-squared quantiles."""
        cases = [(n, level) for n in [*range(0, 60), 100, 500, 2000] for level in (0.90, 0.95, 0.99)]
        said = ask([{"ask": "garwood", "n": n, "level": level} for n, level in cases])
        for (n, level), (low, high) in zip(cases, said):
            tail = (1 - level) / 2
            self.assertAlmostEqual(low, stats.chi2.ppf(tail, 2 * n) / 2 if n else 0, delta=1e-6 * (n + 1))
            self.assertAlmostEqual(high, stats.chi2.isf(tail, 2 * n + 2) / 2, delta=1e-6 * (n + 1))

    def test_intervals_of_a_share(self):
        cases = [(hits, n) for n in (1, 7, 100, 412, 5000) for hits in {0, 1, n // 3, n - 1, n}]
        said = ask([{"ask": "wilson", "hits": hits, "n": n} for hits, n in cases])
        for (hits, n), ours in zip(cases, said):
            theirs = stats.binomtest(hits, n).proportion_ci(0.9, method="wilson")
            numpy.testing.assert_allclose(ours, theirs, rtol=0, atol=1e-12)

    def test_repeatability_is_the_pooled_standard_deviation(self):
        # The mean square within groups of a one-way analysis of variance, by SciPy's variances.
        dice = numpy.random.default_rng(5725)
        for _ in range(20):
            cells = [dice.normal(10, 2, dice.integers(2, 6)).tolist() for _ in range(8)]
            (ours,) = ask([{"ask": "repeatability", "cells": cells}])
            within = sum((len(cell) - 1) * stats.tvar(cell) for cell in cells)
            free = sum(len(cell) - 1 for cell in cells)
            self.assertAlmostEqual(ours, (within / free) ** 0.5, places=12)


class Plane(unittest.TestCase):
    def test_homography(self):
        """Beside OpenCV's and scikit-image's of the same four places, over tilted views of a card."""
        draw = random.Random(2)
        card = [[0.0, 0.0], [85.6, 0.0], [85.6, 53.98], [0.0, 53.98]]
        views = [
            [[20 * x + 300 + draw.uniform(-150, 150), 20 * y + 200 + draw.uniform(-150, 150)] for x, y in card]
            for _ in range(300)
        ]
        said = ask([{"ask": "homography", "from": card, "to": view} for view in views])
        inner = numpy.array([[x, y] for x in (0, 20, 43, 85) for y in (0, 30, 53)], float)
        for view, ours in zip(views, said):
            theirs = cv2.getPerspectiveTransform(numpy.float32(card), numpy.float32(view))
            skimages = transform.ProjectiveTransform.from_estimate(numpy.array(card), numpy.array(view))
            places = transform.ProjectiveTransform(numpy.array(ours))(inner)
            # OpenCV takes single precision: a thousandth of a pixel.
            opencvs = cv2.perspectiveTransform(inner[None], theirs)[0]
            self.assertLess(numpy.abs(places - opencvs).max(), 5e-2)
            self.assertLess(numpy.abs(places - skimages(inner)).max(), 1e-6)


if __name__ == "__main__":
    print(skimage.__version__, cv2.__version__)
    unittest.main()
