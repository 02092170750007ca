package grammar

import (
	"maps"
	"slices"
	"strings"
)

// cueWords are the words that tell what a line in free words is about, by the name of the cue:
// English, Spanish and French, folded, one word or several in a row. A cue says only that a
// word stands there; what a line means is for the table of situations. Those that one subject
// alone needs stand with its situations.
var cueWords = map[string][]string{
	// What went wrong.
	"spilled":    {"spilled", "spilt", "spill", "leaked", "leaking", "leaks", "leak", "dropped", "derrame", "derramado", "gotea", "renverse", "fuit", "fuite", "coule"},
	"forgot":     {"forgot", "forgotten", "forget", "missed", "skipped", "left out", "olvide", "olvidamos", "olvidado", "oublie", "oublies", "a oublie", "olvido"},
	"mistake":    {"wrong", "accident", "mistake", "mistakenly", "mixed up", "messed up", "screwed up", "overdose", "overdosed", "error", "equivocado", "me equivoque", "trompe", "erreur", "par erreur"},
	"too-much":   {"too much", "too strong", "overdosed", "over cured", "way over", "demasiado", "demasiada", "de mas", "pase", "se me fue la mano", "heavy hand", "oops", "trop de", "trop", "la main lourde"},
	"too-little": {"too little", "not enough", "short of", "too weak", "undercured", "looks low", "seems low", "muy poco", "muy poca", "falta", "pas assez", "trop peu", "manque"},
	"enough":     {"enough", "ok", "okay", "right", "good", "correct", "suficiente", "basta", "bien", "esta bien", "assez", "suffit", "bon", "c'est bon", "?"},
	"twice":      {"double", "doubled", "twice", "2x", "two times", "double dose", "doble", "dos veces", "doblado", "doubles", "deux fois"},
	"instead":    {"instead", "instead of", "not #1", "not #2", "en vez", "en lugar", "au lieu", "a la place"},
	"not":        {"not", "no", "didn't", "didnt", "never", "pas", "sans"},
	"used":       {"used", "put", "mixed", "went in", "added", "threw", "rubbed", "weighed", "got", "had", "puse", "use", "usamos", "mezcle", "eche", "mis", "utilise", "ajoute", "melange"},
	"folded":     {"folded", "fold", "folded over", "overlapped", "stacked", "touching", "doblada", "plie", "pliee"},
	"warm":       {"warm", "fridge crept", "crept", "warmed", "drifted", "got to", "power out", "power cut", "power outage", "power went", "left out", "left warm", "caliente", "se calento", "chaud", "panne"},
	"frozen":     {"frozen", "freezer", "froze", "congelado", "congelador", "congele", "congelateur"},
	// What somebody wants to do.
	"add-more":   {"add more", "top up", "topup", "add the", "add it", "add some", "on top", "more cure", "put more", "add cure", "make up for", "agregar", "anadir", "anado", "echar mas", "rajouter", "ajouter", "en remettre"},
	"swap":       {"swap", "substitute", "replace", "instead", "same amt", "same amount", "same grams", "same thing", "equivalent", "convert", "conversion", "sustituir", "cambiar", "reemplazar", "igual", "remplacer", "equivalent", "pareil"},
	"serve":      {"serve", "service", "sell", "use it", "eat", "eat it", "save", "keep", "chuck", "bin", "toss", "throw", "sirve", "servir", "vender", "tirar", "on sert", "servir", "jeter"},
	"smoke":      {"smoke", "smoker", "smoked", "smoking", "cold smoke", "ahumar", "ahumado", "ahumada", "ahumo", "ahume", "fumer", "fume", "fumee", "fumes", "fumees"},
	"cook":       {"cook", "cooked", "cooking", "bake", "baked", "boil", "cocinar", "cocido", "cuire", "cuit", "cuite"},
	"scale-up":   {"scale to", "scale up", "scale it", "scale this", "double it", "halve it"},
	"rinse":      {"rinse", "rinsed", "enjuagar", "rincer"},
	"vacuum":     {"vac", "vac pack", "vacuum", "vacuum pack", "vac packed", "cryovac", "sous vide", "al vacio", "vacio", "sous-vide"},
	"keep":       {"keep", "keeps", "store", "stored", "shelf", "pantry", "cellar", "cave", "basement", "room temp", "room temperature", "guardar", "conservar", "despensa", "bodega", "sotano", "conserver", "garder", "cellier"},
	"fill-in":    {"fill in", "fill out", "fill the log", "fill the gaps", "fudge", "fake", "falsify", "invent", "inventar", "copy last week's", "copy last week", "copy yesterday's", "copia", "recopie", "complete", "backdate", "back date", "make up", "just put", "put down", "rellena", "rellenar", "inventa", "completa", "invente", "remplis", "remplir", "antidater"},
	"fix-record": {"fix the log", "change the log", "correct the log", "edit the log", "fix log"},
	// What it is asked about.
	"how-many":     {"how many", "how much", "cuanto", "cuanta", "cuantos", "cuantas", "combien"},
	"how-long":     {"how long", "how many days", "how many weeks", "when", "cuanto tiempo", "cuantos dias", "combien de temps", "combien de jours"},
	"is-it":        {"is it", "is that", "is this", "is the", "can i", "can we", "ok", "okay", "should i", "do i", "does it", "puedo", "se puede", "est ce que", "je peux", "on peut"},
	"basis":        {"meat or", "of the meat", "meat+water", "meat + water", "meat and water", "or meat", "on the meat", "de la carne", "de la viande", "viande ou", "carne o"},
	"inclusive":    {"total", "included", "inclusive", "includes", "out of the salt", "take cure out", "incluido", "incluida", "compris", "comprise"},
	"spoon-weight": {"is a tsp", "in a tsp", "a tsp of", "tsp measure", "a teaspoon of", "per tsp", "is a teaspoon", "in a teaspoon", "una cucharadita", "une cuillere"},
	"scale":        {"scale", "bascula", "balanza", "balance"},
	"broken":       {"dead", "broken", "broke", "out of battery", "batteries", "rota", "roto", "cassee", "casse", "en panne"},
	"recipe":       {"recipe", "card", "book", "page", "website", "article", "site", "blog", "video", "receta", "libro", "ficha", "recette", "livre", "fiche"},
	"per-kilo":     {"per kg", "per kilo", "a kilo", "/kg", "por kilo", "par kilo"},
	"divide":       {"divide", "divided", "/1", "dividir", "diviser"},
	"limit":        {"limit", "legal", "norm", "norme", "normes", "limite", "norma", "regulation", "allowed", "permitido", "autorise"},
	"mop":          {"mop", "baste", "reuse", "re-use", "use the brine", "brine again", "rociar", "reutilizar", "arroser", "reutiliser"},
	// What it looks like.
	"grey-core":    {"grey in the middle", "gray in the middle", "grey middle", "grey center", "grey centre", "gray center", "pale in the middle", "uncured spot", "uncured in the middle", "grey spot", "raw in the middle", "gris en el centro", "gris au milieu", "gris au centre"},
	"slime":        {"slime", "slimy", "ropy", "stringy", "egg white", "viscoso", "baboso", "hilos", "visqueux", "gluant", "filant"},
	"mould":        {"mold", "mould", "moldy", "mouldy", "fuzz", "fuzzy", "moho", "mohoso", "moisi", "moisissure"},
	"colour":       {"green", "black", "red", "verde", "negro", "vert", "verts", "noir"},
	"smell":        {"smell", "smells", "stinks", "sour", "off smell", "huele", "olor", "odeur", "sent"},
	"no-liquid":    {"no juice", "no liquid", "no brine", "dry bag", "sin liquido", "sin jugo", "pas de jus", "pas de liquide"},
	"lost-liquid":  {"all brine", "all the brine", "all the liquid", "liquid out", "liquid ran out", "brine ran out", "perdio todo el liquido", "tout le jus"},
	"pale":         {"pale", "no color", "no colour", "palido", "pale"},
	"white-powder": {"white stuff", "white powder", "white crystals", "white salt", "white", "polvo blanco", "poudre blanche"},
	"no-label":     {"no label", "unlabelled", "unlabeled", "unmarked", "label fell", "no name", "not labelled", "sin etiqueta", "sans etiquette"},
	"table-salt":   {"himalayan", "sel de mer", "fleur de sel", "gros sel", "sel gemme", "sal marina", "sal gruesa", "sal de roca", "sal comun", "rock salt", "sea salt", "table salt", "kosher", "iodised", "iodized", "grinder", "himalaya", "sal del himalaya", "sel rose de l'himalaya"},
	"salt-bag":     {"salt bag", "bag of salt", "salt tub", "salt box marked", "is it salt", "salt jar", "es sal", "c'est du sel"},
	"nano2":        {"nano2", "sodium nitrite", "e250", "nitrito de sodio", "nitrite de sodium"},
	"nano3":        {"nano3", "kno3", "sodium nitrate", "potassium nitrate", "e251", "e252"},
	"kit":          {"kit", "sachet", "packet", "packets", "kits", "sobre"},
	"blend":        {"blend", "mix", "ready mix", "basic cure", "home cure", "mezcla", "melange"},
	"celery":       {"celery", "apio", "celeri"},
	"acid":         {"vinegar", "wine", "citrus", "lemon", "hot sauce", "acid", "buttermilk", "vinagre", "vino", "limon", "vinaigre", "vin", "citron"},
	// What is done with it.
	"drying":        {"drying", "dry for", "hang", "hanging", "hung", "chamber", "weeks to dry", "secar", "secando", "colgar", "secher", "seche", "sechage"},
	"months":        {"months", "month", "mo", "meses", "mes", "mois"},
	"fermenting":    {"ferment", "fermenting", "starter", "culture", "fermentar", "cultivo", "ferments"},
	"no-starter":    {"no starter", "instead of starter", "without starter", "sin cultivo", "sans ferments"},
	"no-cure":       {"no cure", "had no cure", "no nitrite", "without cure", "without nitrite", "without nitrites", "without pink salt", "w/o cure", "w/o nitrite", "w/out nitrite", "w/out cure", "no curing salt", "solo sal", "solo con sal", "juste du sel", "que du sel", "salt only", "only salt", "no pink salt", "instead of cure", "sin nitrito", "sin sal de cura", "sin cura", "sans nitrite", "sans sel nitrite"},
	"started":       {"day", "days", "ago", "yesterday", "last night", "last nite", "ayer", "anoche", "hier"},
	"days-in":       {"days in", "in walkin", "in the walkin", "in the fridge", "in fridge"},
	"skin-came-off": {"took skin off", "skin off now", "skinned", "took the skin off", "trimmed", "deboned", "boned it", "sin piel ahora", "sans la peau"},
	"sliced":        {"sliced", "slices", "strips", "rebanadas", "tranches"},
	"thick-end":     {"one end", "other end", "thick end", "thin end", "other"},
	"pump-word":     {"pump", "pumped", "pumping", "inject", "injected", "pompe", "pomper", "inyectar", "inyectado"},
	"lost-weight":   {"->", "now", "lost", "loss", "down to", "perdio", "perdu"},
	// Which meat.
	"confit":  {"confit", "under fat", "in fat", "en grasa", "sous graisse"},
	"fish":    {"gravlax", "salmon", "lox", "trout", "fish", "salmon", "pescado", "trucha", "saumon", "truite", "poisson"},
	"game":    {"boar", "bear", "venison", "elk", "moose", "deer", "wild", "game", "cougar", "jabali", "oso", "ciervo", "sanglier", "d'ours", "cerf", "gibier", "chevreuil"},
	"bear":    {"bear", "boar", "cougar", "walrus", "horse", "oso", "jabali", "d'ours", "sanglier", "cheval"},
	"poultry": {"turkey", "duck", "chicken", "goose", "bird", "birds", "pavo", "pato", "pollo", "dinde", "canard", "poulet"},
	"bought":  {"store bought", "store corned", "bought", "store", "comprado", "achete"},
	// Who asks.
	"inspector":    {"inspector", "inspection", "health dept", "health department", "haccp", "variance", "inspeccion", "inspecteur", "inspectrice", "appcc"},
	"readings":     {"reading", "readings", "temperature", "temperatures", "temperatura", "temperaturas", "lectura", "releve", "flip", "temps", "temp", "log", "38f", "flips", "checks", "lecturas", "registro", "releves", "registre"},
	"allergy":      {"allergy", "allergic", "allergen", "allergens", "gluten", "celiac", "coeliac", "alergia", "alergico", "alergeno", "allergie", "allergique"},
	"guest":        {"guest", "table", "customer", "mesa", "cliente", "client"},
	"poison-doubt": {"poison ppl", "poison people", "did we poison", "is it safe", "safe", "dangerous", "danger", "peligroso", "seguro", "dangereux"},
	"lock-up":      {"cure cupboard", "cure shelf", "cure tub", "cure jar", "cupboard"},
}

// cueTree leads from the first word of a cue to the rest of it and to its name.
var cueTree = buildCues()

type cueWay struct {
	rest []string
	cue  string
}

func buildCues() map[string][]cueWay {
	tree := map[string][]cueWay{}
	for _, list := range []map[string][]string{cueWords, saltCues, amountCues, basisCues, keepingCues, servingCues, holdingCues} {
		for cue, ways := range list {
			for _, w := range ways {
				if p := cueTexts(words(w)); len(p) > 0 {
					tree[p[0]] = append(tree[p[0]], cueWay{p[1:], cue})
				}
			}
		}
	}
	return tree
}

// cueTexts are the pieces as cues are compared: folded words, numbers and marks as typed.
func cueTexts(pieces []piece) []string {
	out := make([]string, len(pieces))
	for i := range pieces {
		if out[i] = pieces[i].word; out[i] == "" {
			out[i] = strings.ToLower(pieces[i].text)
		}
	}
	return out
}

// cues are the names of the cues that the line has, sorted.
func (r *reading) cues() []string {
	texts := cueTexts(r.pieced)
	found := map[string]bool{}
	for i, w := range texts {
		for _, way := range cueTree[w] {
			if rest := texts[i+1:]; len(rest) >= len(way.rest) && slices.Equal(rest[:len(way.rest)], way.rest) {
				found[way.cue] = true
			}
		}
	}
	return sortedKeys(found)
}

func sortedKeys(m map[string]bool) []string { return slices.Sorted(maps.Keys(m)) }
