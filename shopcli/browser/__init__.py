"""The application in a browser: a small web server of our own, one process of the application behind each open page.

What the page draws with (a terminal in the browser) comes with ``textual-serve``; who may come in, what is sent along
and when it ends is decided here. The server knows a command to start and nothing of the shop.
"""
