package grammar

// holdingSituations are about what is held, and about a label that nobody can read.
var holdingSituations = []situation{
	{HeldAsked, "hold-word inspector|tagged|still is-it|enough|ready|serve|order"},
	{TagUnread, "tag tag-unread which-one"},
}

// holdingCues are words that only they need.
var holdingCues = map[string][]string{
	"hold-word":  {"hold", "on hold", "held", "inspector hold", "retenido", "retenida", "retencion", "bloque", "bloquee", "blocage"},
	"tagged":     {"tagged", "red tag", "etiquetado", "etiquete"},
	"still":      {"still", "still on", "todavia", "aun", "sigue", "encore", "toujours"},
	"ready":      {"ready", "per weight", "at weight", "on the board", "on the menu", "lista", "listo", "prete", "pret"},
	"which-one":  {"which one", "which is it", "which batch", "what is it", "cual", "que lote", "lequel", "laquelle", "quel lot"},
	"tag":        {"tag", "tags", "label", "labels", "etiqueta", "etiquetas", "etiquette", "etiquettes", "l'etiquette"},
	"tag-unread": {"smudged", "unreadable", "can't read", "cant read", "illegible", "washed off", "fell off", "came off", "ran", "faded", "borrada", "borrosa", "ilegible", "se cayo", "no se lee", "illisible", "effacee", "tombee", "on ne lit"},
}
