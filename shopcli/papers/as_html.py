"""A paper as one HTML page that asks for nothing from outside and prints in black on A4."""

from base64 import b64encode

from shopcli.papers.blocks import Logo, Paper
from shopcli.papers.chart_svg import chart_svg
from shopcli.papers.charts import Chart, alt
from shopcli.papers.render import environment

MIME = {"png": "image/png", "svg": "image/svg+xml"}


def paper_html(paper: Paper) -> str:
    """Return a paper as an HTML document."""
    template = environment(html=True).get_template("paper.html.j2")
    return template.render(paper=paper, logo=_address(paper.logo), picture=_picture, alt=alt)


def _picture(chart: Chart, of: int) -> str:
    return f"data:image/svg+xml;base64,{b64encode(chart_svg(chart, of).encode()).decode()}"


def _address(logo: Logo | None) -> str:
    # A picture shown this way runs no script and loads nothing, whatever is in it.
    return f"data:{MIME[logo.kind]};base64,{b64encode(logo.content).decode()}" if logo else ""
