"""What the pages of the stores and of the counter are for, told at the head of their help."""

ELSEWHERE = {
    "shelf": "What lies on the shelf, part by part: how many, where, what it costs and sells at. Type to narrow the list;"
    " Tab goes on to what is to be ordered, the orders, outwork and exchanges; Esc leaves the stores.",
    "needs": "What cards and shelf are short of, by supplier, and what is on its way already: nothing is ordered twice."
    " Tab goes on, Esc leaves the stores.",
    "purchases": "The orders, from the draft to the goods. Enter goes on with the chosen one as it stands; its paper is"
    " shown to be sent. Tab goes on, Esc leaves the stores.",
    "outwork": "Work that is out of the house, and what an accepted offer planned to send: at whom, until when, for which"
    " card. Enter says that it is back, or sends out what is planned. Tab goes on, Esc leaves the stores.",
    "exchanges": "Old units and parts sent back that somebody owes something for: what is still here, what is on its way,"
    " which credit is to come. Tab goes on, Esc leaves the stores.",
    "order_paper": "An order as its supplier reads it, to be saved, copied and sent. Saying that it is sent puts the"
    " parts on their way.",
    "ring": "Whom to ring: who waits for a word of ours and why, with their telephone and what was said last. A call"
    " that is noted comes up again on the day that was agreed.",
    "handing": "A closed card at the counter: what is to pay, what goes back with the car, what is due next. Papers are"
    " written first, money is taken or given back, then the car is handed to whoever fetches it.",
    "ahead": "What the jobs are expected to cost and when they could be ready, from what such jobs took here and from the"
    " queue there is. An offer is made at these prices and keeps them.",
    "offers": "The offers of the shop and what was answered to them. What is accepted becomes a card, or more work on one.",
    "people": "Who works here and what they may do; roles of one person add up. Who has a PIN types it wherever they choose"
    " to be themselves, and again after a while without a key. One's own PIN is changed by typing the old one; an owner sets"
    " another where it is forgotten. The only owner stays one.",
    "weekrows": "The cards a figure of the week is made of. Enter goes to the chosen one at the bench.",
}
