package grammar

// saltSituations are about which salt is in the jar, and what takes whose place.
var saltSituations = []situation{
	{MadeUpRecord, "fill-in readings"},
	{UnknownSalt, "white-powder no-label|lock-up|salt-bag"},
	{UnknownSalt, "no-label :cure|salt-bag|lock-up"},
	{TableSalt, "table-salt :cure|used|instead"},
	{NitriteNamed, ":saltpetre nano2"},
	{OldRub, ":saltpetre swap|:salt"},
	{Celery, "celery :cure"},
}

// saltCues are words that only they need.
var saltCues = map[string][]string{}
