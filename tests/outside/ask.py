"""Questions to a Rust example that answers JSON lines."""

import json
import os
import pathlib
import subprocess

EXAMPLES = pathlib.Path(os.environ["EXAMPLES"])


def ask(questions, example="ask"):
    """One answer a question: a number, text, list, or {'error': words}."""
    lines = "".join(json.dumps(question) + "\n" for question in questions)
    done = subprocess.run(
        [EXAMPLES / example], input=lines, capture_output=True, text=True, check=True
    )
    answers = [json.loads(line) for line in done.stdout.splitlines()]
    if len(answers) != len(questions):
        raise AssertionError(f"{len(questions)} questions, {len(answers)} answers: {done.stderr}")
    return [a if "error" in a else next(iter(a.values())) for a in answers]
