package grammar

// amountSituations are about how much went in.
var amountSituations = []situation{
	{Leaked, "leaked :meat|:cure|:span|bag"},
	{Leaked, "lost-liquid bag|slab|:span"},
	{Folded, "folded :cut|bag"},
	{Skinned, "skin-came-off :for"},
	{Skinned, "skin-came-off :two-weights :cure"},
	{WrongWeight, ":for :meat"},
	{WrongWeight, "wrong-log :loose :meat"},
	{WrongCure, "wrong-kind"},
	{Twice, "twice :cure !:cure-amount"},
	{Twice, "too-much :share-too-much :cure !:cure-amount"},
	{WentIn, ":parts :meat|:cut blend|used"},
	{WentIn, ":cure-amount :meat|:cut used|enough|too-much|too-little|recipe|mistake|instead|twice|thinking|is-it"},
}

// amountCues are words that only they need.
var amountCues = map[string][]string{
	"leaked":    {"leaked", "leaking", "leaks", "leak", "gotea", "goteo", "se salio", "fuit", "fuite", "a fui", "coule", "a coule"},
	"bag":       {"bag", "bags", "sack", "bolsa", "bolsas", "sac", "sacs", "sachet"},
	"slab":      {"slab", "slabs", "piece", "pieza", "morceau"},
	"wrong-log": {"log", "logged", "tag", "tag says", "registro", "etiqueta dice", "registre", "etiquette"},
	"marinade":  {"marinade", "marinated", "marinada", "marinado", "marine", "marinee"},
	"thinking":  {"thinking", "im thinking", "i'm thinking", "was gonna", "going to use", "planning", "pienso", "je pensais"},
}
