// Package dry computes powders, crisps and dried sheets.
//
// The model is a mass balance: what is not water or alcohol stays. From the
// moisture at the start and the residual moisture that is wanted follow the
// yield, the water to drive off and the wet weight for a wanted dry weight.
// Drying time is a rule of thumb, scaled by temperature (Arrhenius), by load and
// by the logarithm of the moisture on dry matter; the kitchen's own trials take
// its place. Moisture in store is told by water activity, with a sorption
// isotherm of the GAB form whose constants are from memory and so wide.
package dry
