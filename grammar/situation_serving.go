package grammar

// servingSituations are about what goes out, and to whom, and about what looks wrong on the way.
var servingSituations = []situation{
	{GuestAtRisk, "at-risk :cut|product-word|hangs serve|eat|is-it|guest|order"},
	{AirlessSale, "vacuum for-sale :cut|product-word|cured|smoke"},
	{Greened, "greened :cut|cured|bag|brine|hangs !mould !plate"},
	{BrineAgain, "reuse brine !smoke"},
	{BrineAgain, "old-brine is-it|another"},
	{MayServe, "may-go :thread !plate !:meat !:cure"},
}

// servingCues are words that only they need.
var servingCues = map[string][]string{
	"at-risk": {"pregnant", "expecting", "immunocompromised", "immune compromised", "on chemo", "chemo", "newborn", "infant", "toddler", "baby", "nursing home", "care home", "embarazada", "embarazo", "quimio", "bebe", "enceinte",
		"chimio", "nourrisson", "femme enceinte"},
	"may-go": {"serve it", "serve this", "serve that", "serve them", "serve now", "can i serve", "can we serve", "ok to serve", "okay to serve", "safe to serve", "safe to eat", "ok to eat", "okay to eat", "can i eat", "can we eat", "can you eat", "is it safe", "is this safe",
		"is it ready", "is this ready", "ready yet", "ready to go", "is it done", "is this done", "done yet", "is it cured", "cured yet", "cured enough", "good to go", "can it go out", "go on the board", "on the menu", "can we plate", "plate it", "can i use it", "can we use it", "ready to serve",
		"se puede servir", "puedo servir", "podemos servir", "puedo servirlo", "podemos servirlo", "se puede comer", "es seguro", "esta listo", "esta lista", "ya esta", "esta curado", "esta curada",
		"on peut servir", "on peut le servir", "on peut la servir", "je peux servir", "peut on servir", "on peut manger", "on peut le manger", "c'est pret", "est ce pret", "est ce que c'est pret", "c'est bon a servir", "c'est sur", "est il pret", "est elle prete"},
	"eat":      {"have", "eat", "take", "comer", "tomar", "manger", "prendre"},
	"order":    {"order", "orders", "ordered", "wants", "pide", "quiere", "commande", "veut"},
	"for-sale": {"retail", "for sale", "to sell", "sell it", "sell them", "we sell", "i sell", "ship", "shipping", "online", "wholesale", "farmers market", "take away", "takeaway", "to go", "deli case", "vender", "venta", "mercado", "enviar", "vendre", "vente", "marche", "expedier"},
	"greened": {"turned green", "gone green", "went green", "going green", "green tint", "greenish", "green sheen", "green spots", "green shine", "rainbow", "iridescent", "nitrite burn", "cure burn", "se puso verde", "verdosa", "verdoso",
		"quemadura de nitrito", "a verdi", "verdatre", "devenu vert", "devenue verte", "brulure de nitrite", "irise", "irisee"},
	"reuse": {"reuse", "re-use", "re use", "reused", "use again", "used brine", "second batch", "same brine", "reutilizar", "usar otra vez", "la misma salmuera", "reutiliser", "la meme saumure"},
	"old-brine": {"yesterdays brine", "yesterday's brine", "old brine", "last weeks brine", "last week's brine", "leftover brine", "left over brine", "salmuera vieja", "salmuera de ayer", "salmuera usada", "vieille saumure", "saumure d'hier",
		"reste de saumure"},
	"another": {"another", "next", "new", "otra", "otro", "autre", "prochain", "prochaine"},
}
