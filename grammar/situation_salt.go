package grammar

// saltSituations are about which salt is in the jar, what takes whose place, and what was done
// without.
var saltSituations = []situation{
	{MadeUpRecord, "fill-in readings"},
	{Allergens, "allergy :cut|guest|product-word"},
	{CureAsSalt, "as-seasoning :cure|nano2"},
	{UnknownSalt, "white-powder no-label|lock-up|salt-bag|is-salt"},
	{UnknownSalt, "no-label :cure|salt-bag|lock-up"},
	{UnknownSalt, "salt-bag lock-up|is-salt"},
	{TableSalt, "table-salt used|instead|is-it :cut|:meat|recipe"},
	{NitriteNamed, ":saltpetre|nano3 nano2|:pure-nitrite"},
	{NitriteNamed, ":saltpetre|nano2|nano3|:pure-nitrite swap !:salt"},
	{OldRub, ":saltpetre swap|:salt"},
	{Celery, "celery :powder used|recipe|swap|how-many|is-it|enough"},
	{WeakCure, "blend :spoon :share"},
	{NoCureIn, "no-cure smoke|drying|cook|keep|serve|:span|blend|days-in"},
	{NoCureIn, "no-starter"},
	{WeakCure, "kit|weak !:cure-grams :cure"},
	{OtherCure, ":no-1|:no-2 :nitrited-salt swap|how-many|recipe|is-it !:meant"},
	{RateClaimed, "recipe :spoon :meat poison-doubt|rule !:liquid !thinking"},
	{LawAsked, "limit :cure-amount"},
	{Inspection, "inspector plan"},
}

// saltCues are words that only they need.
var saltCues = map[string][]string{
	"as-seasoning": {"seasoned", "season", "seasoning", "salt shaker", "shaker", "as table salt", "as salt", "as regular salt", "on the fries", "in the soup", "on the line as",
		"sazone", "sazonar", "salero", "como sal", "comme sel", "assaisonne", "assaisonner", "saliere"},
	"is-salt":      {"is it salt", "is this salt", "is that salt", "table salt", "es sal", "c'est du sel"},
	"product-word": {"salami", "bresaola", "jerky", "bacon", "ham", "sausage", "charcuterie", "salame", "jamon", "chorizo", "saucisson", "jambon"},
	"weak":         {"cream color", "cream colored", "off white", "weaker", "weak cure", "summer sausage kit", "cure packet", "packet of cure", "sobre de cura", "sachet de cure"},
	"rule":         {"rule", "safe rule", "safe limit", "safe amount", "regla", "regle", "says", "dice", "dit"},
	"plan":         {"haccp", "variance", "plan", "separate recipe", "every weight", "appcc", "permit", "permiso", "dossier"},
}
