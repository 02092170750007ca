// Package diffuse reckons how salt spreads through a piece of meat: a slab, a cylinder or
// a sphere, under one of three boundaries.
//
//   - Constant: the surface stays at one concentration (a large excess of brine, a salt box).
//   - Limited: a well-stirred bath gives up what the meat takes (a cover brine).
//   - Capped: a weighed rub. The surface stays saturated until all of the dose is in, then
//     what is in evens out.
//
// Everything is dimensionless: Tau is D·t/L², with L the half-thickness of a slab that
// takes salt on both faces, its full thickness where only one face does (skin on), or the
// radius. Centre and Uptake are shares of their values at equilibrium. Scale turns a Tau
// into hours, with the band of published diffusivities; nobody can claim better than a
// factor of two. Over adds up spells at several temperatures, Brick is a rectangular piece
// under a constant surface, and Peak is how much of a solute that is spent on the way ever
// comes to the centre.
package diffuse
