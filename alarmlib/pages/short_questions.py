"""The short path on its page: its questions as the browser is told of them, and what an answer edits."""

from collections.abc import Mapping, Sequence
from typing import Any

from alarmlib.draft import short_answers
from alarmlib.draft.offers import OptionGroup
from alarmlib.draft.picks import Picks
from alarmlib.draft.questions import ShortQuestion, asked_now, begins_at, is_answered, is_unknown
from alarmlib.draft.short_path import wrong_answers
from alarmlib.model.home import Home
from alarmlib.model.short_path import ShortPath
from alarmlib.pages.progress import SHORT_PATH
from alarmlib.rules import say_of
from alarmlib.store import Edit, Session
from alarmlib.widgets.engine import Extras, sentence
from alarmlib.widgets.questions import QuestionsForm, QuestionsSpec


def questions_form(session: Session, extras: Extras) -> QuestionsForm:
    """The form of the short path's questions."""
    spec = QuestionsSpec(SHORT_PATH, told, begins_at, edits, short_answers.after)
    return QuestionsForm(session, spec, extras)


def told(home: Home) -> Sequence[Mapping[str, Any]]:
    """Each question that is asked now, with its answer, in the words of the home's country."""
    picks, say = Picks(home), say_of(home)
    wrong: dict[str, list[str]] = {}
    for each in wrong_answers(home):
        wrong.setdefault(each.field, []).append(sentence(each.problem))
    return [
        {
            "id": question.id,
            "title": say(question.title),
            "help": say(question.help),
            "kind": question.kind,
            "groups": [_group(group, say) for group in question.groups(picks)],
            "text": short_answers.said(home, question)
            if question.kind == "number" and not _unsure(home, question)
            else "",
            "unsure": question.unsure,
            "said": say(short_answers.said(home, question)) if is_answered(home, question) else "",
            "unknown": _unsure(home, question),
            "wrong": say(" ".join(text for field in question.fields for text in wrong.get(field, ()))),
        }
        for question in asked_now(home)
    ]


def _unsure(home: Home, question: ShortQuestion) -> bool:
    return is_unknown(home, question)


def _group(group: OptionGroup, say: Any) -> dict[str, Any]:
    options = [
        {"key": each.key, "label": say(each.label), "on": each.on, "more": say(each.more)} for each in group.options
    ]
    return {"key": group.key, "legend": say(group.legend), "options": options, "add": say(group.add)}


def edits(home: Home, deed: Mapping[str, Any]) -> Sequence[Edit]:
    """The edits of one deed at a question. Raises AlarmProblem with what is shown there."""
    name, group, key = (str(deed.get(part, "")) for part in ("question", "group", "key"))
    match deed["kind"]:
        case "pick":
            changes = short_answers.picked(home, name, group, key, bool(deed.get("on")))
        case "more":
            changes = short_answers.one_more(home, name, group, key)
        case "add":
            changes = short_answers.added(home, name, group, str(deed.get("text", "")))
        case "write":
            changes = short_answers.written(name, str(deed.get("text", "")))
        case "unknown":
            changes = short_answers.unknown(home, name)
        case _:
            changes = short_answers.passed(home, name)
    before = home.short_path
    after = ShortPath.model_validate({**before.model_dump(), **changes})
    moved = [field for field in changes if getattr(after, field) != getattr(before, field)]
    return [Edit(("short_path", field), getattr(before, field), getattr(after, field)) for field in moved]
