"""The sheets: numbers of vehicles and spec sheets, looked up, entered from the handbook in hand and confirmed."""
