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

// kindSaid is a said of a kind that it names itself.
type kindSaid struct {
	kind lexer.TokenType
	said
}

// wordList is all the words of one language, each list in the same shape: a canonical name and
// the ways of saying it.
type wordList struct {
	language      string
	cuts, methods []said
	steps, verbs  []said
	salts         []kindSaid // a misspelt one is never forgiven
	plain         []kindSaid
	along, places []said   // what is said of a batch and of a place on the way, and what a place may be called
	between       []said   // the words in between
	jars          []said   // words behind a jar's name, and nowhere else
	tells         []string // ordinary words that tell the language of a line in free words
}

// wordLists are the lists of all languages. Where two say the same word for different things
// the first stands; a test names each such word.
func wordLists() []wordList { return []wordList{english, spanish, french} }

// english are the words of English-speaking kitchens.
var english = wordList{language: "en", cuts: cuts, methods: methods, steps: steps, verbs: verbs, salts: salts, plain: plain, along: along, places: places, between: between, jars: jars,
	tells: []string{"the", "is", "was", "it", "of", "and", "for", "my", "we", "this", "that", "do", "can", "how", "much", "got", "put", "used", "still", "days", "where", "did", "go", "went", "who", "what", "which", "with"}}

// doubtfulCuts are words that are one cut here and another there: each is asked about.
var doubtfulCuts = map[string][]string{
	"tocino":     {"pork belly", "back fat"}, // bacon in the Americas, back fat in Spain
	"lard":       {"pork belly", "back fat"}, // French: belly or fat; English: rendered fat
	"pechuga":    {"duck breast", "turkey breast"},
	"carrillera": {"pork jowl", "beef cheek"},
}

// cuts leads from cooks' words to the canonical names of cure.
var cuts = []said{
	{"pork belly", []string{"pork belly", "belly", "bellies", "pork bellies", "slab of belly", "slab belly", "side pork"}},
	{"pork loin", []string{"pork loin", "loin", "pork loins", "pork back", "back"}},
	{"pork shoulder", []string{"pork shoulder", "shoulder", "pork shoulders"}},
	{"pork butt", []string{"pork butt", "butt", "boston butt", "pork butts", "boston butts"}},
	{"coppa", []string{"coppa", "capocollo", "capicola", "capicollo", "neck", "pork neck", "collar", "pork collar"}},
	{"bone-in ham", []string{"bone in ham", "ham bone in", "ham on the bone", "fresh ham on the bone", "fresh ham bone in", "bone in fresh ham"}},
	{"boneless ham", []string{"boneless ham", "ham", "hams", "fresh ham", "fresh hams", "ham boneless", "ham off the bone", "pork leg", "boneless fresh ham", "boneless pork leg"}},
	{"ham steak", []string{"ham steak", "ham steaks", "ham slice", "ham slices", "gammon steak", "gammon steaks"}},
	{"beef brisket", []string{"beef brisket", "brisket", "briskets", "beef briskets"}},
	{"eye of round", []string{"eye of round", "beef eye of round", "eye round"}},
	{"duck breast", []string{"duck breast", "duck breasts"}},
	{"turkey breast", []string{"turkey breast", "turkey breasts"}},
	{"ground pork", []string{"ground pork", "pork mince", "minced pork", "sausage", "sausages", "pork sausage", "salami", "salame"}},
	{"ground beef", []string{"ground beef", "beef mince", "minced beef"}},
	{"ground venison", []string{"ground venison", "venison mince", "minced venison", "ground deer", "ground game"}},
	{"pork jowl", []string{"pork jowl", "jowl", "jowls", "pork jowls", "pork cheek", "pork cheeks", "guanciale"}},
	{"back fat", []string{"back fat", "backfat", "fatback", "fat back", "pork back fat"}},
	{"beef cheek", []string{"beef cheek", "beef cheeks", "ox cheek", "ox cheeks"}},
	{"beef tongue", []string{"beef tongue", "tongue", "tongues", "beef tongues", "ox tongue", "ox tongues"}},
	{"lamb leg", []string{"lamb leg", "leg of lamb", "lamb legs", "legs of lamb", "leg o lamb"}},
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
	{"change water", []string{"change water", "change the water", "water changed", "changed the water", "changed water"}},
	{"ferment", []string{"into the chamber", "went into the chamber"}},
	{"ph test", []string{"ph test", "ph tested", "test ph"}},
	{"mould look", []string{"mould look", "mold look", "mould checked", "mold checked", "looked for mould", "looked for mold"}},
	{"chill check", []string{"chill check", "chill checked", "cooling check", "cooling checked"}},
	{"use by", []string{"use by"}},
	{"done", []string{"done"}},
}

var verbs = []said{
	{"recipe", []string{"recipe"}},
	{"recipes", []string{"recipes", "what recipes"}},
	{"approve recipe", []string{"approve recipe", "approve the recipe"}},
	{"withdraw recipe", []string{"withdraw recipe", "withdraw the recipe"}},
	{"approve", []string{"approve", "approved"}},
	{"decline", []string{"decline", "declined"}},
	{"never mind", []string{"never mind", "nevermind"}},
	{"undo", []string{"undo"}},
	{"correct weight", []string{"correct weight", "correct the weight", "correct weight is", "correct weight to", "correct the weight to"}},
	{"correct green weight", []string{"correct green weight", "correct the green weight"}},
	{"added", []string{"added"}},
	{"correct", []string{"correct", "correction", "correct the"}},
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
	{"paused", []string{"paused", "what is paused", "what's paused"}},
	{"steps", []string{"steps", "the steps", "what are the steps"}},
	{"on it", []string{"on it", "i'm on it", "im on it", "i am on it"}},
	{"move", []string{"move"}},
	{"drop", []string{"drop"}},
	{"pause", []string{"pause"}},
	{"frozen since", []string{"frozen since", "in the freezer since"}},
	{"resume", []string{"resume", "resumed"}},
	{"back in the walk-in", []string{"back in the walk-in", "back in the walk in", "back in the walkin", "back in the fridge", "back in the cooler"}},
	{"thawed", []string{"thawed", "thawed since"}},
	{"owner", []string{"owner", "owner is"}},
	{"backup", []string{"backup", "backup is"}},
	{"kitchen backup", []string{"kitchen backup"}},
	{"away", []string{"away"}},
	{"hand over", []string{"hand over", "handover", "handing over"}},
	{"give my batches to", []string{"give my batches to"}},
	{"give", []string{"give"}},
	{"accept", []string{"accept", "accepted"}},
	{"digest", []string{"digest"}},
	{"quiet", []string{"quiet", "quiet hours"}},
	{"closed", []string{"closed", "we are closed", "closed on"}},
	{"escalate", []string{"escalate"}},
	{"to approve", []string{"to approve", "what is to approve"}},
	{"to start", []string{"to start", "what is to start"}},
	{"who cured", []string{"who cured", "who cures"}},
	{"totals", []string{"totals"}},
	{"batch", []string{"batch"}},
	{"label", []string{"label", "bag label"}},
	{"sheet", []string{"sheet", "record sheet", "batch sheet", "batch record"}},
	{"chart", []string{"chart", "graph", "curve"}},
	{"blank sheet", []string{"blank sheet", "empty sheet", "paper sheet"}},
	{"export", []string{"export", "export for", "export of", "csv", "csv for"}},
	{"region", []string{"region"}},
	{"chef", []string{"chef"}},
	{"second", []string{"second"}},
	{"no longer", []string{"no longer"}},
	{"join", []string{"join"}},
	{"people", []string{"people", "who is who", "who is here"}},
	{"my name is", []string{"my name is", "call me"}},
	{"kitchen", []string{"kitchen"}},
	{"cure channel", []string{"cure channel"}},
	{"home channel", []string{"home channel"}},
	{"units", []string{"units"}},
	{"default", []string{"default"}},
	{"approval reminder", []string{"approval reminder", "approval reminder after"}},
	{"approval passed on", []string{"approval passed on", "approval passed on after"}},
	{"weighing", []string{"weighing"}},
	{"own approval", []string{"own approval"}},
	{"own mixes", []string{"own mixes"}},
	{"cure scale", []string{"cure scale"}},
	{"date order", []string{"date order"}},
	{"zone", []string{"zone", "time zone", "timezone"}},
	{"language", []string{"language"}},
	{"kitchen language", []string{"kitchen language"}},
	{"jars", []string{"jars", "which jars"}},
	{"seen", []string{"seen"}},
	{"meat scale", []string{"meat scale"}},
	{"scale checked", []string{"scale checked", "cure scale checked", "scale check", "cure scale check", "checked the scale", "checked scale", "checked the cure scale"}},
	{"meat scale checked", []string{"meat scale checked", "meat scale check", "checked the meat scale", "big scale checked"}},
	{"second reading", []string{"second reading"}},
	{"check weight", []string{"check weight"}},
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
	{"how much for", []string{"how much for", "how much", "how mutch", "how mutch cure", "how much cure", "how much salt", "how much salt and cure", "how much cure and salt"}},
}

// jars are the words behind a jar's name.
var jars = []said{
	{"is", []string{"is", "is now", "holds", "has", "is full of"}},
	{"anew", []string{"filled anew", "filled anew with", "refilled", "refilled with", "filled again", "filled again with", "new filling"}},
	{"label", []string{"label", "label says", "label reads"}},
	{"weighs", []string{"weighs", "is at", "weighed"}},
	{"empty", []string{"empty", "is empty", "emptied", "used up", "is used up"}},
	{"withdrawn", []string{"withdrawn", "is withdrawn", "withdraw", "recalled", "is recalled", "out of use", "is out of use"}},
	{"held", []string{"held", "is held", "hold", "on hold", "is on hold"}},
	{"back in use", []string{"back in use", "is back in use", "released", "is released"}},
	{"seen", []string{"seen", "second reading", "was seen"}},
	{"approved", []string{"approved", "approve", "is approved"}},
	{"photo", []string{"photo", "label photo", "photo of the label"}},
	{"lot", []string{"lot", "lot no", "lot number"}},
	{"dyed", []string{"dyed", "tinted", "coloured", "colored"}},
	{"undyed", []string{"undyed", "not dyed", "untinted", "white", "uncoloured", "uncolored"}},
	{"made of", []string{"made of", "made from", "mixed from"}},
}

// salts are the words of curing salts and of what goes in with them. A misspelt one is
// never forgiven.
var salts = []kindSaid{
	{agentKind, said{noCure, []string{"no cure", "without cure", "no nitrite", "salt only"}}},
	{agentKind, said{nitritedSalt, []string{"nitrited salt", "nitrite salt", "nitrited curing salt", "nitrite curing salt", "pokelsalz", "nitritpokelsalz"}}},
	{agentKind, said{houseCure, []string{"house cure", "house mix", "house made cure"}}},
	{vagueKind, said{"pink salt", []string{"pink salt", "pink cure", "pink stuff", "curing salt", "curing salts", "cure", "tinted cure"}}},
	{vagueKind, said{"saltpetre", []string{"saltpetre", "saltpeter"}}},
	{vagueKind, said{"potassium nitrate", []string{"potassium nitrate", "kno3", "e252"}}},
	{vagueKind, said{"potassium", []string{"potassium", "potassium nitrite", "e249"}}},
	{vagueKind, said{"celery", []string{"celery", "celery powder", "celery salt", "celery juice", "vegetable powder"}}},
	{ionKind, said{"nitrite", []string{"nitrite", "sodium nitrite", "nitrites"}}},
	{ionKind, said{"nitrate", []string{"nitrate", "sodium nitrate", "nitrates"}}},
	{stuffKind, said{"salt", []string{"salt", "sea salt", "kosher salt", "table salt"}}},
	{stuffKind, said{"sugar", []string{"sugar", "brown sugar", "white sugar", "cane sugar"}}},
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
var saltNames = []string{"nitrite", "nitrate", "nitrited", "nitrites", "nitrates", "saltpetre", "saltpeter", "potassium", "erythorbate", "ascorbate",
	"nitrito", "nitritos", "nitrato", "nitratos", "nitrada", "nitritada", "salitre", "salpetre", "potasio", "eritorbato", "ascorbato"}

// plain are words whose kind is fixed.
var plain = []kindSaid{
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
	{fillerKind, said{"", []string{"of", "for", "with", "and", "a", "an", "the", "to", "please", "pls", "plz", "hey", "hey bot"}}},
}

// along are the words that lead what is said of a batch or of a place.
var along = []said{
	{"now", []string{"now", "now weighs", "weighs", "weighs now", "it weighs", "now at"}},
	{"ph", []string{"ph", "ph is", "ph reads", "ph at"}},
	{"core", []string{"core", "core is", "core at", "core temp", "core temperature", "internal temp", "internal temperature"}},
	{"aw", []string{"aw", "water activity"}},
	{"served", []string{"served", "sold", "sent", "sent out"}},
	{"meat lot", []string{"meat lot", "lot of meat", "meat from lot"}},
	{"in", []string{"in", "now in", "is in", "it is in"}},
	{"moved to", []string{"moved to", "moved into", "put in", "put into", "went into", "moved it to"}},
	{"place", []string{"place"}},
	{"new place", []string{"new place"}},
	{"where is", []string{"where is", "where's", "wheres"}},
	{"what is in", []string{"what is in", "what's in", "whats in"}},
	{"power out", []string{"power out", "power cut", "power outage", "power went out", "no power"}},
	{"incident", []string{"incident"}},
	{"hold", []string{"hold"}},
	{"release", []string{"release"}},
}

// places are the words that a place may be called by.
var places = []said{{"place", []string{"walk in", "walkin", "fridge", "chiller", "cold store", "larder", "cooler", "reach in", "reachin", "freezer", "chamber", "curing chamber", "drying chamber", "curing room", "drying room",
	"cold room", "cave", "cellar", "locker", "lowboy", "low boy", "cabinet"}}}

// between are the words inside of what is said of a batch or a place.
var between = []said{
	{"was at", []string{"was", "was at", "was warm", "has been warm", "got warm", "has been", "has been at", "was up to", "got to", "went to"}},
	{"is at", []string{"is", "is at", "at", "now", "now at", "reads"}},
	{"netting", []string{"netting", "net", "string", "twine", "hook", "tare", "casing"}},
	{"with", []string{"with", "including", "incl", "in", "less", "minus"}},
	{"without", []string{"without", "no"}},
	{"portions", []string{"portions", "portion", "plates", "plate", "covers", "servings", "serves"}},
	{"to", []string{"to", "to the", "for", "for the", "at the"}},
	{"from", []string{"from"}},
	{"establishment", []string{"est", "establishment", "plant"}},
	{"received", []string{"received", "arrived", "came in"}},
	{"jar", []string{"jar"}},
	{"lot", []string{"lot"}},
	{"meat lot", []string{"meat lot"}},
	{"recipe", []string{"recipe"}},
	{"inspector", []string{"inspector", "the inspector", "inspection", "health department", "health dept", "health inspector"}},
	{"ref", []string{"ref", "reference"}},
}
