// Package water is the arithmetic of water activity: of salt in water, of sugars, of saturated
// salts that test a hygrometer, and, with a band, of cured meat. It is pure.
//
// Water activity (aw) is the vapour pressure over a thing against that over pure water at the
// same temperature: 1 is water, 0.75 a saturated brine. What grows on food is bound by it, and
// not by how much water there is.
//
// # How good
//
// A solution of salt alone is known to 0.001 (Solution.Activity), one of sugar to 0.005
// (Solute.Activity). For meat there is no such figure: Meat.Activity gives three, and the
// truth may lie anywhere between Low and High, 0.02 to 0.07 apart in dried goods. High, what
// the salt alone does, is the cautious one. No figure from here replaces a meter, and no loss
// of weight says that a thing keeps.
//
// # Two ways to say how salt the water is
//
// Meat.Phase is water-phase salt, salt over salt and water: 3.5 % salt in 55 % water is
// 5.98 %. Meat.PerWater is salt over water: 6.36 g to 100 g. Limits are written in the first.
package water
