package grammar

import "github.com/alecthomas/participle/v2/lexer"

// entry is what one way of saying something means.
type entry struct {
	kind  lexer.TokenType
	value string
}

// said lists the ways of saying one thing. Another language is another list.
type said struct {
	value string
	ways  []string
}

// cuts leads from cooks' words to the canonical names of cure.
var cuts = []said{
	{"pork belly", []string{"pork belly", "belly", "bellies", "pork bellies", "slab of belly", "slab belly", "side pork", "panceta", "poitrine", "poitrine de porc"}},
	{"pork loin", []string{"pork loin", "loin", "pork loins", "pork back", "back"}},
	{"pork shoulder", []string{"pork shoulder", "shoulder", "pork shoulders"}},
	{"pork butt", []string{"pork butt", "butt", "boston butt", "pork butts", "boston butts"}},
	{"coppa", []string{"coppa", "capocollo", "capicola", "capicollo", "neck", "pork neck", "collar", "pork collar"}},
	{"bone-in ham", []string{"bone in ham", "ham bone in", "ham on the bone", "fresh ham on the bone", "fresh ham bone in", "bone in fresh ham"}},
	{"boneless ham", []string{"boneless ham", "ham", "hams", "fresh ham", "fresh hams", "ham boneless", "ham off the bone", "pork leg", "boneless fresh ham", "boneless pork leg", "jambon"}},
	{"ham steak", []string{"ham steak", "ham steaks", "ham slice", "ham slices", "gammon steak", "gammon steaks"}},
	{"beef brisket", []string{"beef brisket", "brisket", "briskets", "beef briskets"}},
	{"eye of round", []string{"eye of round", "beef eye of round", "eye round"}},
	{"duck breast", []string{"duck breast", "duck breasts", "magret", "magrets"}},
	{"turkey breast", []string{"turkey breast", "turkey breasts"}},
	{"ground pork", []string{"ground pork", "pork mince", "minced pork", "sausage", "sausages", "pork sausage", "salami", "salame"}},
	{"ground beef", []string{"ground beef", "beef mince", "minced beef"}},
	{"ground venison", []string{"ground venison", "venison mince", "minced venison", "ground deer", "ground game"}},
	{"pork jowl", []string{"pork jowl", "jowl", "jowls", "pork jowls", "pork cheek", "pork cheeks", "guanciale"}},
	{"back fat", []string{"back fat", "backfat", "fatback", "fat back", "pork back fat"}},
	{"beef cheek", []string{"beef cheek", "beef cheeks", "ox cheek", "ox cheeks"}},
	{"beef tongue", []string{"beef tongue", "tongue", "tongues", "beef tongues", "ox tongue", "ox tongues"}},
	{"lamb leg", []string{"lamb leg", "leg of lamb", "lamb legs", "legs of lamb", "leg o lamb", "gigot"}},
	{"duck leg", []string{"duck leg", "duck legs", "duck thigh", "duck thighs", "legs of duck"}},
	{"goose breast", []string{"goose breast", "goose breasts"}},
	{"venison haunch", []string{"venison haunch", "haunch of venison", "venison leg", "leg of venison", "haunch"}},
	{"wild boar", []string{"wild boar", "boar", "leg of wild boar"}},
	{"salmon", []string{"salmon", "salmon side", "salmon sides", "side of salmon", "sides of salmon", "salmon fillet", "salmon fillets"}},
}

// minced is meat whose animal was not said.
const minced = "mince"

var methods = []said{
	{"dry rub", []string{"dry rub", "dry rubbed", "dry cure", "dry cured", "rub", "rubbed", "dry"}},
	{"ground", []string{"ground", "minced"}},
	{"salt box", []string{"salt box", "saltbox", "box salted", "salt boxed", "excess salt", "buried in salt"}},
	{"confit", []string{"confit", "confited"}},
}

// verbs of a batch: steps, and what else is typed in a thread.
var steps = []said{
	{"turn", []string{"turn", "turned", "flip", "flipped"}},
	{"overhaul", []string{"overhaul", "overhauled"}},
	{"top up", []string{"top up", "topped up"}},
	{"take out", []string{"take out", "taken out", "took out", "out of the cure", "out of cure", "pulled"}},
	{"rinse", []string{"rinse", "rinsed"}},
	{"soak", []string{"soak", "soaked"}},
	{"rest", []string{"rest", "rested"}},
	{"pellicle", []string{"pellicle"}},
	{"smoke", []string{"smoke", "smoked"}},
	{"cook", []string{"cook", "cooked"}},
	{"chill", []string{"chill", "chilled", "cooled"}},
	{"hang", []string{"hang", "hung"}},
	{"weigh", []string{"weigh", "weighed"}},
	{"done", []string{"done"}},
}

var verbs = []said{
	{"approve", []string{"approve", "approved"}},
	{"decline", []string{"decline", "declined"}},
	{"never mind", []string{"never mind", "nevermind"}},
	{"start", []string{"start", "started"}},
	{"finished", []string{"finished", "finish"}},
	{"hold", []string{"hold"}},
	{"release", []string{"release"}},
	{"discard", []string{"discard", "discarded"}},
	{"snooze", []string{"snooze"}},
	{"remind", []string{"remind", "remind me to", "remind me"}},
	{"due", []string{"due", "what is due", "what's due", "whats due"}},
	{"hanging", []string{"hanging", "what is hanging", "what's hanging"}},
	{"held", []string{"held", "what is held", "what's held"}},
	{"curing", []string{"curing", "what is curing", "what's curing"}},
	{"resting", []string{"resting", "what is resting", "what's resting"}},
	{"to approve", []string{"to approve", "what is to approve"}},
	{"to start", []string{"to start", "what is to start"}},
	{"who cured", []string{"who cured", "who cures"}},
	{"batch", []string{"batch"}},
	{"region", []string{"region"}},
	{"chef", []string{"chef"}},
	{"weighing", []string{"weighing"}},
	{"own approval", []string{"own approval"}},
	{"own mixes", []string{"own mixes"}},
	{"cure scale", []string{"cure scale"}},
	{"date order", []string{"date order"}},
	{"zone", []string{"zone", "time zone", "timezone"}},
	{"help", []string{"help"}},
	{"check", []string{"check"}},
	{"swap", []string{"swap"}},
	{"mix", []string{"mix"}},
	{"how long", []string{"how long", "how many days"}},
	{"which cure", []string{"which cure", "which salt", "which curing salt", "what cure", "what curing salt"}},
	{"dry", []string{"dry log", "drying"}},
	{"ferment", []string{"ferment", "fermented", "fermenting", "ferment log"}},
	{"cook log", []string{"cook log", "cooking log", "lethality"}},
	{"cold log", []string{"cold log", "fridge log"}},
	{"cooling", []string{"cooling", "cooling log"}},
	{"freeze", []string{"freeze", "freezing"}},
	{"aw", []string{"aw", "water activity"}},
	{"how much for", []string{"how much for", "how much", "how much cure", "how much salt", "how much salt and cure", "how much cure and salt"}},
}

// salts are the words of curing salts and of what goes in with them. A misspelt one is
// never forgiven.
var salts = []struct {
	kind lexer.TokenType
	said
}{
	{agentKind, said{noCure, []string{"no cure", "without cure", "no nitrite", "salt only"}}},
	{agentKind, said{nitritedSalt, []string{"nitrited salt", "nitrite salt", "nitrited curing salt", "nitrite curing salt", "sel nitrite", "sal nitrada", "pokelsalz", "nitritpokelsalz"}}},
	{agentKind, said{houseCure, []string{"house cure", "house mix", "house made cure"}}},
	{vagueKind, said{"pink salt", []string{"pink salt", "pink cure", "pink stuff", "curing salt", "curing salts", "cure", "tinted cure", "sal de cura", "sal rosa", "sel rose", "sel de salaison"}}},
	{vagueKind, said{"saltpetre", []string{"saltpetre", "saltpeter", "salpetre", "salitre", "sal de nitro"}}},
	{vagueKind, said{"potassium nitrate", []string{"potassium nitrate", "kno3", "e252"}}},
	{vagueKind, said{"potassium", []string{"potassium", "potassium nitrite", "e249"}}},
	{vagueKind, said{"celery", []string{"celery", "celery powder", "celery salt", "celery juice", "vegetable powder"}}},
	{ionKind, said{"nitrite", []string{"nitrite", "sodium nitrite", "nitrites"}}},
	{ionKind, said{"nitrate", []string{"nitrate", "sodium nitrate", "nitrates"}}},
	{stuffKind, said{"salt", []string{"salt", "sea salt", "kosher salt", "table salt", "sal", "sel"}}},
	{stuffKind, said{"sugar", []string{"sugar", "brown sugar", "white sugar", "cane sugar", "azucar", "sucre"}}},
	{stuffKind, said{"erythorbate", []string{"erythorbate", "sodium erythorbate", "ascorbate", "sodium ascorbate"}}},
	{onTopKind, said{"on top", []string{"on top"}}},
}

const (
	noCure       = "no cure"
	no1          = "no 1"
	no2          = "no 2"
	nitritedSalt = "nitrited salt"
)

// saltNames are the words that nobody may misspell: one letter is another chemical.
var saltNames = []string{"nitrite", "nitrate", "nitrited", "nitrites", "nitrates", "saltpetre", "saltpeter", "potassium", "erythorbate", "ascorbate"}

// plain are words whose kind is fixed.
var plain = []struct {
	kind lexer.TokenType
	said
}{
	{brineKind, said{"brine", []string{"brine", "brined", "cover brine", "wet brine", "wet cure", "brine cure", "immersion"}}},
	{injectKind, said{"inject", []string{"inject", "injected", "injection", "pump", "pumped"}}},
	{coverKind, said{"cover", []string{"cover", "and cover", "covered"}}},
	{flagKind, said{"skin on", []string{"skin on", "rind on"}}},
	{flagKind, said{"skin off", []string{"skin off", "skinless", "rind off", "rindless", "no skin"}}},
	{flagKind, said{"heated", []string{"heated", "hot smoked", "cooked after", "cooked afterwards", "to be cooked", "will be cooked"}}},
	{flagKind, said{"not heated", []string{"not heated", "unheated", "not cooked", "not to be cooked", "raw"}}},
	{flagKind, said{"bone in", []string{"bone in", "on the bone"}}},
	{flagKind, said{"boneless", []string{"boneless", "off the bone"}}},
	{waterKind, said{"water", []string{"water"}}},
	{verbKind, said{"what", []string{"what"}}},
	{verbKind, said{"switch on", []string{"on"}}},
	{verbKind, said{"switch off", []string{"off"}}},
	{verbKind, said{"last", []string{"last"}}},
	{verbKind, said{"this", []string{"this"}}},
	{thickKind, said{"thick", []string{"thick", "thickness"}}},
	{atKind, said{"at", []string{"at"}}},
	{inKind, said{"in", []string{"in"}}},
	{timesKind, said{"x", []string{"x"}}},
	{jarKind, said{"jar", []string{"jar"}}},
	{fillerKind, said{"", []string{"of", "for", "with", "and", "a", "an", "the", "to", "de", "du", "please", "pls", "plz"}}},
}
