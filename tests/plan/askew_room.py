"""A small room where fewer stops cost money: a beam that hangs askew gives every slat a length of its own."""

ASKEW = """
title = "Box room"
units = "in"
[room]
height = "8 ft"
[room.measured]
AB = "7 ft 3 in"
BC = "8 ft"
CD = "7 ft 3 in"
DA = "8 ft"
[[beam]]
name  = "E1"
width = "3 1/2 in"
depth = "5 1/2 in"
ends  = [ { wall = "AB", from = "A", at = "3 ft 3 in" }, { wall = "CD", from = "D", at = "3 ft 5 in" } ]
[cross_beams]
rows  = 0
[slats]
stock = "1x4"
run   = "across"
gap   = "1/4 in"
[trim]
width  = "3/4 in"
height = "3/4 in"
[shop]
cull = 0
[[shop.board]]
stock  = "1x4"
length = "8 ft"
price  = 8.95
[[shop.board]]
stock  = "1x4"
length = "10 ft"
price  = 11.60
[[shop.board]]
stock  = "1x4"
length = "12 ft"
price  = 13.75
[[shop.board]]
stock  = "3/4x3/4"
length = "10 ft"
price  = 6.20
"""
