"""The next tests as plain text."""

from isogyre.desk import NextAnswer
from isogyre.desk.answers import HarmAnswer, TestAnswer
from isogyre.desk.wording import odds_in_words


def next_text(answer: NextAnswer) -> str:
    """Return the answer of `next` in words, best test first."""
    lines = [line for test in answer["next"] for line in test_lines(test)]
    blocked = [
        f"  {test['test']}: {harm_line(test['harm'])}" for test in answer["blocked"] if test["harm"]
    ]
    parts = [_head(answer), *lines]
    if blocked:
        parts += ["", "Worth much, but not on this stone as it stands:", *blocked]
    return "\n".join(parts)


def _head(answer: NextAnswer) -> str:
    question = {
        "name": "what it is",
        "natural": "how it was grown",
        "treated": "whether it was treated",
    }.get(answer["settle"], answer["settle"])
    if not answer["next"] and not answer["blocked"]:
        return f"Nothing in the {answer['kit']} kit would say more about {question}."
    if not answer["settles"]:
        return f"Nothing in the {answer['kit']} kit can be expected to settle {question}; best:"
    return f"To settle {question} with the {answer['kit']} kit:"


def test_lines(test: TestAnswer) -> list[str]:
    """Return one test worth making: what it adds, what it would show, what to mind."""
    lines = [
        f"  {test['test']} ({test['minutes']:g} min, {test['gain_bits']:.2f} bits)",
        f"      {test['why']}",
    ]
    return [*lines, f"      {harm_line(test['harm'])}"] if test["harm"] else lines


def harm_line(harm: HarmAnswer | None) -> str:
    """Return why a test could hurt the stone, and what would lift the worry."""
    if harm is None:
        return ""
    verdict = "never here" if harm["verdict"] == "never" else "ask first"
    who = f"{harm['candidate']} is {odds_in_words(harm['probability'])}"
    lifted = f"; {harm['lifted_by']}" if harm["lifted_by"] else ""
    return f"{verdict}: {harm['reason']} ({who}{lifted})"
