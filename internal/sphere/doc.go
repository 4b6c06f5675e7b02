// Package sphere computes alginate spheres: direct (alginate in the liquid,
// calcium in the bath), reverse (calcium in the liquid, alginate in the bath)
// and set-then-shear (an alginate gel blended to a heat-proof fluid gel).
//
// The model counts charges. A gram of dry sodium alginate carries 5.05 mmol of
// acid groups, two of which take one calcium. Acid hides the groups below pH 4;
// calcium that is already in the liquid ties them up before the drop falls. The
// skin grows by diffusion with a sharp front, thickness with the square root of
// time (Potter et al., Carbohydrate Research, 1994), so every skin is an
// estimate with a range. A bath is a calcium balance.
//
// Composition (pH, calcium, acids, density) comes in as plain figures, how the pH
// rises with citrate as a curve of them, and a calcium salt as its share of
// calcium; grams per kilogram follow from it.
package sphere
