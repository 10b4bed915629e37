"""The data attached to a report's PDF, taken out by two readers that are not ours."""

import base64
import hashlib
import json
import os
import pathlib
import subprocess
import tempfile
import unittest

import pikepdf
import pypdf

PROGRAM = pathlib.Path(os.environ["SWARFBOOK_BIN"])


def by_pikepdf(file):
    with pikepdf.open(file) as document:
        return {name: spec.get_file().read_bytes() for name, spec in document.attachments.items()}


def by_pypdf(file):
    attached = pypdf.PdfReader(file).attachments
    return {name: data for name, versions in attached.items() for data in versions}


class Attachment(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.folder = tempfile.TemporaryDirectory()
        cls.addClassCleanup(cls.folder.cleanup)
        data = pathlib.Path(cls.folder.name)
        cls.file = data / "report.pdf"

        def program(*arguments, said=None):
            done = subprocess.run(
                [PROGRAM, *arguments, "--data", data / "data"],
                input=said,
                capture_output=True,
                text=True,
                check=True,
            )
            return done.stdout

        replies = program("call", said=json.dumps({"do": "open_job", "procedure": None}) + "\n")
        job = json.loads(replies.splitlines()[0])["job"]["id"]
        program("report", job, "--out", cls.file)

    def test_each_reader_takes_out_what_the_seal_names(self):
        for reader in (by_pikepdf, by_pypdf):
            with self.subTest(reader=reader.__name__):
                attached = reader(self.file)
                self.assertEqual(set(attached), {"report.json", "seal.txt"})
                report = json.loads(attached["report.json"])
                self.assertRegex(report["letter"]["number"], r"^\d{6}-[0-9A-F]{4}-[0-9A-F]{6}$")
                sealed = attached["seal.txt"].split(b":", 1)[1].strip()
                statement = json.loads(json.loads(base64.b64decode(sealed))["statement"])
                hashed = hashlib.sha256(attached["report.json"]).hexdigest()
                self.assertEqual(statement["content"], hashed)

    def test_it_says_that_it_is_for_archives_and_for_all(self):
        with pikepdf.open(self.file) as document:
            said = document.open_metadata()
            self.assertEqual((said["pdfaid:part"], said["pdfaid:conformance"]), ("3", "A"))
            self.assertEqual(said["pdfuaid:part"], "1")


if __name__ == "__main__":
    unittest.main()
