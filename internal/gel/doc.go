// Package gel computes set, thickened and blended textures: how firm a dose is,
// what dose is as firm, what a recipe will do in its liquid, and what other
// agents would do in its place.
//
// # Firmness
//
// Above a critical dose C0 the storage modulus of a gel is
//
//	G'(c) = A·[(c/C0 − 1)/(Ref/C0 − 1)]^n · f
//
// with A the modulus at the dose Ref and f the product of factors for serving
// temperature, setting time, pH, hot acid, sugar, alcohol, salt, setting ions,
// milk and what this kitchen's trials say. A grade (Bloom, gel strength, SAG)
// scales the dose: c is replaced by c·(grade/reference)^p. The moduli of agents
// that set side by side add up, times the published synergy of a pair.
//
// # Uncertainty
//
// A, n, C0, p and every factor have a low, a typical and a high value. The
// modulus is computed with all of them typical, then with each alone at its low
// and its high value; the deviations of ln G' downwards and upwards are summed
// as squares (root-sum-square), which gives the range. A dose range is made the
// same way from the inverse law, in ln dose. There is no sampling: the same
// input gives the same answer.
//
// Most parameters are from memory or derived; they rank agents and give a
// starting dose, and their tags go out with every answer.
package gel
