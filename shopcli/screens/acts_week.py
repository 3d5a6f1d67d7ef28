"""What the keys of the week do: seven pages, a period, a figure and the rows it is made of."""

from shopcli.screens.act import Act

PAGE_KEYS = {
    "front": "1",
    "flow": "2",
    "hours": "3",
    "money": "4",
    "times": "5",
    "quality": "6",
    "ahead": "7",
}

WEEK: tuple[Act, ...] = (
    Act("week.open", "enter", "Rows", "Open the rows the chosen figure is made of."),
    Act("week.right", "right,tab", "Figure", "Choose the next figure of the row.", footer=False),
    Act("week.left", "left,shift+tab", "Figure before", "Choose the figure before.", footer=False),
    Act("week.down", "down,j", "Down", "Choose the next row.", footer=False),
    Act("week.up", "up,k", "Up", "Choose the row before.", footer=False),
    Act("week.page_down", "pagedown", "Further on", "Go a screenful further on.", footer=False),
    Act("week.page_up", "pageup", "Back", "Go a screenful back.", footer=False),
    Act("week.bars", "b", "Bars", "Go to the bars of the picture; Enter opens the chosen one.", footer=False),
    Act("week.earlier", "e", "Earlier", "Go back by the period."),
    Act("week.later", "l", "Later", "Go on by the period, up to now."),
    Act("week.this", "home", "Now", "Go to the week we are in.", footer=False),
    Act("week.longer", "space", "Period", "Look at one week, four, thirteen or a year."),
    Act("week.take", "t", "Take over", "List the chosen job at the time it takes here, from now on."),
    Act("week.undo", "u", "Undo", "List the job as it was before it was taken over here.", footer=False),
    Act(
        "week.away",
        "a",
        "Away",
        "Note who was or is away: their hours are paid less, or not at all.",
        footer=False,
    ),
    Act("week.paper", "p", "Paper", "Write the report of the period: one page as PDF."),
    Act("week.export", "x", "Export", "Write every table of the period as CSV, and all of it as JSON."),
    Act("week.front", "1", "Week", "On Monday, and the period in figures.", footer=False),
    Act("week.flow", "2", "Flow", "What came and went, where cards wait, what stands here.", footer=False),
    Act("week.hours", "3", "Hours", "Paid, clocked and sold.", footer=False),
    Act("week.money", "4", "Money", "Invoiced, margins, what earns, what is unpaid.", footer=False),
    Act("week.times", "5", "Times", "Clocked against listed, job by job.", footer=False),
    Act("week.quality", "6", "Quality", "What came back, what was left out of limits.", footer=False),
    Act("week.ahead", "7", "Ahead", "When all that is booked in is done.", footer=False),
    # The rows of a figure
    Act("weekrows.go", "enter", "To the bench", "Open the card of the chosen row at the bench."),
    Act("weekrows.down", "down,j", "Down", "Choose the next row.", footer=False),
    Act("weekrows.up", "up,k", "Up", "Choose the row before.", footer=False),
    Act("weekrows.page_down", "pagedown", "Further on", "Go a screenful further on.", footer=False),
    Act("weekrows.page_up", "pageup", "Back up", "Go a screenful back.", footer=False),
    Act("weekrows.back", "escape,q", "Back", "Go back to the week."),
)
