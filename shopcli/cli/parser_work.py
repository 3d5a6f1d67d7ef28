"""The commands of work on a card: what is read and done at the bench, its parts, the closing check. Nothing but words is needed."""

TYPE_CHECKING = False  # the words of typing cost more to load than the words of a command
if TYPE_CHECKING:
    from shopcli.cli.parser import Commands


def add_bench(c: "Commands", task_help: str) -> None:
    """Add the commands of readings, of tasks and of what was found."""
    reading = c.add(
        "reading",
        "bench:reading",
        'record a reading, typed as read: 6 thou, .006", 0,15 mm, 40 ftlb',
        card=True,
    )
    reading.add_argument("task", help=task_help)
    reading.add_argument("value", help="as read, with its unit")
    reading.add_argument(
        "--at", default="", metavar="PLACE", help="where, when the task has several: '2 inlet', 'front left'"
    )
    phase = reading.add_mutually_exclusive_group()
    phase.add_argument("--found", action="store_true", help="as found")
    phase.add_argument("--left", action="store_true", help="as left (the default when the task asks for it)")
    reading.add_argument("--tool", default="", help="which tool")
    done = c.add("done", "bench:done", "say a task is done", card=True)
    done.add_argument("task", help=task_help)
    done.add_argument("--note", default="", help="a note; needed where a reading as left is missing")
    out = c.add("leave-out", "bench:leave_out", "leave a task out, with a reason", card=True)
    out.add_argument("task", help=task_help)
    out.add_argument("reason")
    back = c.add("take-back", "bench:take_back", "take back done or left out", card=True)
    back.add_argument("task", help=task_help)
    second = c.add(
        "second", "bench:second", "sign a task as the second pair of eyes (--by another person)", card=True
    )
    second.add_argument("task", help=task_help)
    finding = c.add("finding", "bench:finding", "write down a fault seen and not mended", card=True)
    finding.add_argument("place", help="where on the car")
    finding.add_argument("what", help="what is wrong")
    finding.add_argument("--bad", choices=("stop", "soon", "watch"), default="soon", help="how bad (soon)")
    finding.add_argument("--takes", default="", help="what it would take")
    finding.add_argument("--wanted", default="", metavar="TEMPLATE", help="the job that would mend it")
    finding.add_argument("--photo", default="", metavar="PATH", help="where the photo lies")


def add_fitting(c: "Commands", task_help: str) -> None:
    """Add the commands of the parts and the money of a card."""
    fit = c.add("fit", "parts:fit", "fit a part of the card's kit, or another from stock", card=True)
    fit.add_argument("part", help="beginning of the part's name, or its number")
    fit.add_argument("--task", default="", help=task_help)
    fit.add_argument("--qty", default="", help="how many; of a part on the card the rest is ordered")
    fit.add_argument("--serial", default="")
    order = c.add("order", "parts:order", "say a part of the card is on order", card=True)
    order.add_argument("part")
    unused = c.add("not-used", "parts:not_used", "say a part of the kit was not used", card=True)
    unused.add_argument("part")
    price = c.add("price", "parts:price", "give a part of the card its price", card=True)
    price.add_argument("part")
    price.add_argument("price", help="for one, before tax, like 8.06")


def add_closing(c: "Commands") -> None:
    """Add the commands of the closing check and of closing."""
    c.add(
        "check",
        "closing:check",
        "list everything that hinders the hand-over (status 1 when anything does)",
        json=True,
        card=True,
    )
    waive = c.add("waive", "closing:waive", "set a hindrance aside by name, with a reason", card=True)
    waive.add_argument("hindrance", help="its key from: shopcli check")
    waive.add_argument("reason")
    lift = c.add("lift", "closing:lift", "lift a tag by hand, with a reason", card=True)
    lift.add_argument("tag", help="the tag's name")
    lift.add_argument("reason")
    settle = c.add("settle", "closing:settle", "say a promised check was done", card=True)
    settle.add_argument("check", help="beginning of the check's title")
    settle.add_argument("reason", help="how it was done")
    c.add(
        "close",
        "closing:close",
        "close a card and issue its invoice; refused while anything hinders",
        card=True,
    )
