"""The painter of training pictures: same seed same picture, truth lies on what shows, stated lengths, clean share, files."""
import os
import sys
import unittest

sys.path.insert(0, os.path.join(os.path.dirname(os.path.abspath(__file__)), '..', '..', 'core', 'debris', 'learn'))


class Paint(unittest.TestCase):
    def test_truth_and_form(self):
        from paint import check
        for c in check.CHECKS:
            with self.subTest(c.__name__):
                c()


if __name__ == '__main__':
    unittest.main()
