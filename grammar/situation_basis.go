package grammar

// basisSituations are about sums, bases and units.
var basisSituations = []situation{
	{RecipePasted, ":per-volume :cure-amount scale-up|recipe|ingredients"},
	{BrineRate, ":per-volume :cure"},
	{PickleStrength, "pump-word :pump :cure|:salt|how-many"},
	{CoarseScale, "scale steps|scale-ok|only :loose"},
	{SpoonWeight, "scale broken"},
	{SpoonWeight, "spoon-weight :spoon"},
	{SpoonWeight, "scale-gone"},
	{StrengthOrDose, ":strength-figure :dose-figure versus|whats|is-it|how-many"},
	{PoundsAndOunces, "type-in :meat :number !:cure"},
	{PerKiloSum, "per-kilo :cure-share :meat :loose|:number !celery"},
	{PerCentSlip, ":share|:cure-share :meat by-hand :loose|:number !per-kilo"},
	{Basis, "basis :salt|:cure|:share"},
	{SaltInclusive, "inclusive :salt :cure|:share"},
	{LiquidInBag, ":liquid :meat bag|acid is-it|enough|how-many|on-which !marinade"},
	{LiquidInBag, "acid :cure is-it|enough !no-starter"},
	{ThreeShares, ":parts :meat !blend !used"},
	{EachPiece, "each :share|:cure-share :meat :two-weights"},
}

// basisCues are words that only they need.
var basisCues = map[string][]string{
	"ingredients": {"ingredients", "ingredientes", "ingredients:", "use this", "usa esto", "voici la recette"},
	"steps":       {"only goes", "goes in steps", "steps", "jumps", "increments", "de 5 en 5", "par pas de"},
	"scale-ok":    {"scale ok", "scale fine", "scale enough", "good enough scale", "sirve la bascula", "balance suffit"},
	"only":        {"only goes", "only reads", "only shows", "solo marca", "solo lee", "n'affiche que"},
	"scale-gone":  {"scale dead", "scale broken", "scale is dead", "scale is broken", "scale died", "no scale", "without a scale", "sin bascula", "bascula rota", "sans balance", "plus de balance"},
	"type-in":     {"do i type", "do i enter", "type", "escribo", "pongo", "je tape", "je mets"},
	"versus":      {"vs", "versus", "difference", "diferencia", "entre"},
	"whats":       {"whats", "what's", "what is", "que es", "c'est quoi", "qu'est ce"},
	"by-hand":     {"=", "x", "times", "right", "seems a lot", "seems little", "por", "fois", "es", "is"},
	"each":        {"each", "per piece", "cada", "cada una", "chacun", "chacune"},
	"on-which":    {"cure on", "salt on", "on which", "sobre que", "sur quoi"},
}
