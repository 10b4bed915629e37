"""Pictures that are no debris at all, through the door: nothing that they show leads to opening a gearbox up before
somebody looked at it, and score and advice without what is in doubt stand beside what is counted.

Gravel, brick, grass and coins are those inside scikit-image's wheel (`skimage.data`, each with its source and licence
there); cloth and keyboard are drawn. Each is given a scale by two taps, as a technician would.
"""

import json
import os
import pathlib
import subprocess
import tempfile
import unittest

import numpy
from skimage import data, io, transform, util

SWARFBOOK = pathlib.Path(os.environ["EXAMPLES"]).parent / "swarfbook"
# Pixels of a millimetre, and of a picture's shorter side.
PX_PER_MM, SIDE = 12, 1500


def cloth():
    """A plain weave of threads 0.8 mm wide, with a thread's own unevenness."""
    draw = numpy.random.default_rng(3)
    pitch = 0.8 * PX_PER_MM
    y, x = numpy.mgrid[0:SIDE, 0 : SIDE * 4 // 3]
    over = (numpy.floor(x / pitch) + numpy.floor(y / pitch)) % 2
    across = numpy.where(over == 0, x, y) / pitch
    round_ = numpy.sin(numpy.pi * (across % 1.0))
    uneven = transform.resize(draw.normal(0, 1, (SIDE // 8, SIDE // 6)), x.shape, order=1)
    return numpy.clip(0.25 + 0.4 * round_ + 0.03 * uneven + draw.normal(0, 0.015, x.shape), 0, 1)


def keyboard():
    """Dark keys of 16 mm on a light frame, each with a light mark."""
    draw = numpy.random.default_rng(4)
    y, x = numpy.mgrid[0:SIDE, 0 : SIDE * 4 // 3] / PX_PER_MM
    key = (x % 19 < 16) & (y % 19 < 16)
    mark = key & (abs(x % 19 - 5) < 1.2) & (abs(y % 19 - 5) < 1.6) & (abs(x % 19 - 5) > 0.5)
    shade = numpy.where(mark, 0.85, numpy.where(key, 0.15, 0.6))
    return numpy.clip(shade + draw.normal(0, 0.012, x.shape), 0, 1)


def pictures():
    for name in ("gravel", "brick", "grass", "coins"):
        grey = util.img_as_float(getattr(data, name)())
        yield name, transform.resize(grey, (SIDE, SIDE * grey.shape[1] // grey.shape[0]), order=3)
    yield "cloth", cloth()
    yield "keyboard", keyboard()


def call(folder, *commands):
    """Replies of the door, one a command."""
    lines = "".join(json.dumps(command) + "\n" for command in commands)
    done = subprocess.run(
        [SWARFBOOK, "call", "--data", folder], input=lines, capture_output=True, text=True, check=True
    )
    return [json.loads(line) for line in done.stdout.splitlines()]


def read(folder, grey, subject):
    """The job and the photo's view after the picture was taken, given a scale and counted."""
    path = pathlib.Path(folder) / "picture.png"
    io.imsave(path, util.img_as_ubyte(numpy.dstack([grey] * 3)), check_contrast=False)
    kept = [SWARFBOOK, "photo", path, "--data", folder]
    photo = subprocess.run(kept, capture_output=True, text=True, check=True).stdout.strip()
    (opened,) = call(folder, {"do": "open_job"})
    job = opened["job"]["id"]
    write = lambda fact: {"do": "write", "job": job, "fact": fact, "sure": True}
    (taken,) = call(
        folder, write({"fact": "photo_taken", "step": "patch", "photo": photo, "subject": subject})
    )
    entry = taken["entry"]
    at = 20 * PX_PER_MM
    hints = {"taps": [[at, at], [at + 40 * PX_PER_MM, at]], "tap_mm": 40}
    hinted, counted = call(
        folder,
        write({"fact": "photo_hinted", "photo": entry, "hints": hints}),
        {"do": "take_census", "job": job, "photo": entry},
    )
    return counted["job"], counted["photo"]


class NoDebris(unittest.TestCase):
    def test_it_never_leads_to_opening_up_before_somebody_looked(self):
        counted = 0
        for name, grey in pictures():
            for subject in ("patch", "pan"):
                with self.subTest(name, subject=subject), tempfile.TemporaryDirectory() as folder:
                    job, photo = read(folder, grey, subject)
                    wear, pieces = job["wear"], photo["particles"]
                    counted += len(pieces)
                    print(
                        f"{name} as {subject}: {len(pieces)} pieces,",
                        wear and (wear["advice"], wear["score"], wear["lo"], wear["hi"]),
                        photo["photo"]["census"]["limits"],
                    )
                    if wear is None:
                        continue
                    self.assertNotEqual(wear["advice"], "open_up")
                    self.assertTrue(wear["not_confirmed"])
                    if wear["advice"] != "carry_on":
                        # Score and advice without what is in doubt stand beside it.
                        self.assertTrue(wear["without_doubtful"], wear)
                    if name == "keyboard" and subject == "patch":
                        # It is the look that was lacking: whoever stands by such a count is taken at their word.
                        confirm = {"fact": "census_confirmed", "photo": photo["photo"]["entry"]}
                        (written,) = call(
                            folder, {"do": "write", "job": job["id"], "fact": confirm, "sure": True}
                        )
                        self.assertEqual(written["job"]["wear"]["advice"], "open_up")
        # Were nothing counted anywhere, this would check nothing.
        self.assertGreater(counted, 10)


if __name__ == "__main__":
    unittest.main()
