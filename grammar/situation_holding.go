package grammar

// holdingSituations are about what is held, and about a label that nobody can read.
var holdingSituations = []situation{
	{HeldAsked, "hold-word inspector|tagged|still is-it|enough|ready|serve|order"},
	{HeldAsked, "on-hold who-placed"},
	{TagUnread, "tag tag-unread which-one"},
}

// holdingCues are words that only they need.
var holdingCues = map[string][]string{
	"hold-word":  {"hold", "on hold", "held", "inspector hold", "retenido", "retenida", "retencion", "bloque", "bloquee", "blocage"},
	"on-hold":    {"on hold", "hold", "held", "retenido", "retenida", "retencion", "bloque", "bloquee", "blocage"},
	"who-placed": {"who put", "who placed", "who held", "who tagged", "why is it", "why's it", "what lifts", "who lifts", "quien lo retuvo", "quien lo puso", "por que esta", "quien lo libera", "qui l'a bloque", "qui a bloque", "pourquoi c'est", "pourquoi est-il", "qui le leve"},
	"tagged":     {"tagged", "red tag", "etiquetado", "etiquete"},
	"still":      {"still", "still on", "todavia", "aun", "sigue", "encore", "toujours"},
	"ready":      {"ready", "per weight", "at weight", "on the board", "on the menu", "lista", "listo", "prete", "pret"},
	"which-one":  {"which one", "which is it", "which batch", "what is it", "cual", "que lote", "lequel", "laquelle", "quel lot"},
	"tag":        {"tag", "tags", "label", "labels", "etiqueta", "etiquetas", "etiquette", "etiquettes", "l'etiquette"},
	"tag-unread": {"smudged", "unreadable", "can't read", "cant read", "illegible", "washed off", "fell off", "came off", "ran", "faded", "borrada", "borrosa", "ilegible", "se cayo", "no se lee", "illisible", "effacee", "tombee", "on ne lit"},
}
