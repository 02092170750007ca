package cure

import (
	"fmt"
	"testing"
)

// TestWords: the words of a machine answer are kept as they are.
func TestWords(t *testing.T) {
	for want, word := range map[string]fmt.Stringer{
		"dry rub": DryRub, "cover brine": CoverBrine, "injection": Injection, "injection + cover": InjectionCover, "ground": Ground, "salt box": SaltBox, "confit": Confit,
		"green meat": GreenMeat, "green meat less skin": GreenMeatLessSkin, "meat + water": MeatAndWater, "meat + pickle": MeatAndPickle,
		"under": Under, "at": At, "over": Over, "below min": BelowMin, "not checkable": NotCheckable, "met": Met,
		"note": Note, "warn": Warn, "hold": Hold, "stop": Level(4),
		"no cure": NoCure, "no. 1": No1, "no. 2": No2, "nitrited salt": NitritedSalt,
		"cure": CureItem, "salt": SaltItem, "sugar": SugarItem, "ascorbate": AscorbateItem, "water": WaterItem, "box salt": BoxSaltItem,
		"?": Method(200),
	} {
		if got := word.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
