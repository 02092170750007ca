package bot

import (
	"strings"
	"testing"

	"salthand/store"
)

// A new kitchen is set up in the chat: the code of the start makes the first chef, then the
// bot asks for region, clock and channel.
func TestFirstSetUp(t *testing.T) {
	h := openHouse(t)
	h.wants("ana", "slack", "dm", "hello", "not set up yet")
	h.wants("ana", "slack", "dm", exampleDose, "not set up yet")
	h.wants("ana", "slack", "dm", "join 000-000-001", "code is not good")
	code, ok, err := h.ChefCode(t.Context())
	if err != nil || !ok {
		t.Fatalf("no code: %v", err)
	}
	h.wants("ana", "slack", "dm", "join "+strings.ToLower(code), "Which rules apply?")
	h.wants("ana", "slack", "dm", "eu", "Which clock do reminders go by?")
	h.wants("ana", "slack", "dm", "Paris", "cure channel here")
	h.wants("ana", "slack", "cures", "@salthand cure channel here", "without a mention")
	h.wants("ana", "slack", "cures", "3 kg loin, dry rub, 6 days, nitrited salt 0.6%, 80 ppm", "batch 1")
	err = h.Store.View(func(tx *store.Tx) error {
		k, _, err := tx.Kitchen(homeKitchen)
		if k.Region != "eu" || k.Zone != "Europe/Paris" {
			t.Errorf("the kitchen is %+v", k)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if _, again, err := h.ChefCode(t.Context()); again || err != nil {
		t.Errorf("a second code for a first chef: %v", err)
	}
	h.wants("luis", "slack", "dm", "region us", "Only a chef")
	h.wants("ana", "slack", "dm", "chef @luis", "luis is a chef now")
	h.wants("luis", "slack", "dm", "region us", "Region us")
}

// A code that others could read makes nobody a chef, and is used up.
func TestChefCodeInAChannel(t *testing.T) {
	h := openHouse(t)
	code, _, err := h.ChefCode(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	h.wants("ana", "slack", "cures", "@salthand join "+code, "used up")
	h.wants("eve", "slack", "dm", "join "+code, "not good")
}

// The zone that the platform tells of the chef is offered first.
func TestZoneOfThePlatform(t *testing.T) {
	h := openHouse(t)
	code, _, err := h.ChefCode(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	h.tells("ana", "slack", "dm", "join "+code)
	m := h.line("ana", "slack", "dm", "us")
	m.Zone = "America/Lima"
	h.deliver(m)
	if c := h.on["slack"].last(); len(c.Choices) != 5 || c.Choices[0] != "Lima" {
		t.Errorf("zones to choose from are %q", c.Choices)
	}
}
