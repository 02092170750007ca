package heat

import (
	"time"

	"salthand/cure"
)

// Core is the temperature that a consumer's guidance asks for at the core, and how long it
// then rests.
type Core struct {
	Meat   string
	At     cure.Celsius
	Rest   time.Duration
	Source string
	Seen   string
}

// Cores are the temperatures, all from memory. Game is cooked to that of ground meat.
func Cores() []Core {
	const (
		usda = "USDA consumer guidance on safe minimum temperatures"
		rest = 3 * time.Minute // USDA, from memory
		seen = "memory, sure"
	)
	return []Core{
		{"whole pork or beef", fahrenheit(145), rest, usda, seen},
		{"fresh ham", fahrenheit(145), rest, usda, seen},
		{"ground", fahrenheit(160), 0, usda, seen},
		{"game", fahrenheit(160), 0, usda, seen},
		{"poultry", fahrenheit(165), 0, usda, seen},
	}
}
