// Package emulsion computes oil-in-water emulsions of the kitchen: cold creams
// of the mayonnaise kind, hot butter sauces, vinaigrettes, nut and cream
// emulsions.
//
// The model is geometric. Fat is droplets, everything else is the watery side
// between them. The share of the volume that the droplets take, phi, decides
// the texture: below random close packing (0.64) they move freely and the
// cream is thin; up to the densest packing of equal spheres (0.74) it is
// spoonable; above, droplets press each other flat and it is stiff; beyond
// about 0.85 to 0.9 there is too little water left and it inverts or splits.
// The fat of egg yolk sits in the yolk's own particles and counts with the
// watery side; the fat of cream, milk and butter counts as droplets.
//
// The emulsifier is checked apart, by what it can carry; mostly water, not
// yolk, is the limit. Creaming speed follows Stokes' law below close packing.
// The pH of the watery side comes in as a range from whoever computed or
// measured it. Nothing here says that raw egg is safe: the published figures
// disagree, and stand side by side.
package emulsion
