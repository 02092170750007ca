package grammar

// allergenNames are what a label declares and a guest asks about, by the words for it: those that
// the law lists in the EU, and by another choice in the US.
var allergenNames = map[string]string{
	"celery": "celery", "celeriac": "celery", "apio": "celery", "celeri": "celery",
	"mustard": "mustard", "mostaza": "mustard", "moutarde": "mustard",
	"gluten": "gluten", "wheat": "gluten", "barley": "gluten", "rye": "gluten", "celiac": "gluten", "celiacs": "gluten", "coeliac": "gluten", "trigo": "gluten", "cebada": "gluten", "centeno": "gluten",
	"celiaco": "gluten", "celiaca": "gluten", "ble": "gluten", "orge": "gluten", "seigle": "gluten", "coeliaque": "gluten",
	"soy": "soy", "soya": "soy", "soja": "soy",
	"milk": "milk", "lactose": "milk", "dairy": "milk", "leche": "milk", "lactosa": "milk", "lait": "milk",
	"egg": "egg", "eggs": "egg", "huevo": "egg", "huevos": "egg", "oeuf": "egg", "oeufs": "egg",
	"fish": "fish", "pescado": "fish", "poisson": "fish",
	"nut": "nuts", "nuts": "nuts", "almond": "nuts", "hazelnut": "nuts", "walnut": "nuts", "pistachio": "nuts", "nueces": "nuts", "avellana": "nuts", "pistacho": "nuts", "noix": "nuts", "noisette": "nuts", "pistache": "nuts",
	"peanut": "peanut", "peanuts": "peanut", "cacahuete": "peanut", "cacahuetes": "peanut", "arachide": "peanut", "arachides": "peanut",
	"sesame": "sesame", "sesamo": "sesame",
	"sulphite": "sulphites", "sulphites": "sulphites", "sulfite": "sulphites", "sulfites": "sulphites", "sulfitos": "sulphites",
	"lupin": "lupin", "altramuz": "lupin",
	"crustacean": "crustaceans", "crustaceans": "crustaceans", "shellfish": "crustaceans", "shrimp": "crustaceans", "crustaceos": "crustaceans", "marisco": "crustaceans", "crustaces": "crustaceans",
	"mollusc": "molluscs", "molluscs": "molluscs", "moluscos": "molluscs", "mollusques": "molluscs",
}

// AllergensIn are the allergens that a text names, each once, in order.
func AllergensIn(text string) (names []string) {
	for _, p := range words(text) {
		names = onceMore(names, allergenNames[p.word])
	}
	return names
}

// ProductsIn are the products and cuts that a text names, each once, in order.
func ProductsIn(text string) (names []string) {
	p := words(text)
	for i := 0; i < len(p); i++ {
		if i+1 < len(p) && products[p[i].word+" "+p[i+1].word] != "" {
			names = onceMore(names, products[p[i].word+" "+p[i+1].word])
			i++
			continue
		}
		if name := products[p[i].word]; name != "" {
			names = onceMore(names, name)
			continue
		}
		if e, n := lexicon.find(p[i:], false, new(int)); e != nil && e.kind == cutKind {
			names = onceMore(names, e.value)
			i += n - 1
		}
	}
	return names
}

func onceMore(names []string, name string) []string {
	for _, n := range names {
		if n == name {
			return names
		}
	}
	if name == "" {
		return names
	}
	return append(names, name)
}
