package foam

import "tremblant/internal/source"

// The works that the figures of this package come from. Where the coefficients
// were read in open scientific code instead of the paper, the text says so.
var (
	srcWeissPrice = source.Ref{Tag: source.Published, Text: "R. F. Weiss and B. A. Price, Nitrous oxide solubility in water and seawater, Marine Chemistry 8 (1980) 347-359; coefficients as reproduced in open oceanographic code"}
	srcNIST       = source.Ref{Tag: source.Published, Text: "NIST, Index of Semiconductor Process Gases, nitrous oxide: virial coefficients"}
	srcLemmon     = source.Ref{Tag: source.Published, Text: "E. W. Lemmon and R. Span, Short fundamental equations of state for 20 industrial fluids, J. Chem. Eng. Data 51 (2006) 785-850; coefficients as reproduced in open property code"}
	srcVapour     = source.Ref{Tag: source.Derived, Text: "saturation pressures computed from the equation of Lemmon and Span, J. Chem. Eng. Data 51 (2006) 785-850"}
	srcMilkFat    = source.Ref{Tag: source.Derived, Text: "factors of CO2 in anhydrous milk fat (Food Chemistry 237 (2017) 667) put on the oil/gas coefficient of N2O"}
	srcOil        = source.Ref{Tag: source.Tertiary, Text: "oil/gas partition coefficient 1.4 at 37 °C, tables of anaesthesia studies"}
	srcOilSlope   = source.Ref{Tag: source.Memory, Text: "slope taken over from CO2 in oils, a guess"}
	srcKell       = source.Ref{Tag: source.Memory, Text: "G. S. Kell, Density, thermal expansivity and compressibility of liquid water, J. Chem. Eng. Data 20 (1975) 97-105"}
	srcCODATA     = source.Ref{Tag: source.Published, Text: "CODATA 2018, exact since the SI of 2019"}
	srcIUPAC      = source.Ref{Tag: source.Memory, Text: "C. L. Young (ed.), Oxides of Nitrogen, IUPAC Solubility Data Series 8 (1981); gas treating correlation of Versteeg and van Swaaij, J. Chem. Eng. Data 33 (1988) 29"}
	srcSechenov   = source.Ref{Tag: source.Memory, Text: "Sechenov constant of sucrose 0.10-0.15 l/mol, believed from gas salting-out tables"}
	srcKunerth    = source.Ref{Tag: source.Published, Text: "W. Kunerth, Solubility of CO2 and N2O in certain solvents, Phys. Rev. 19 (1922) 512, abstract"}
	srcCharger    = source.Ref{Tag: source.Tertiary, Text: "trade pages: 8 g in 10 cm³"}
	srcCoupling   = source.Ref{Tag: source.Derived, Text: "gas left in a 10 ml charger at the pressure reached, plus a hiss by common practice"}
	srcModel      = source.Ref{Tag: source.Derived, Text: "mass balance of the package documentation"}

	srcShim       = source.Ref{Tag: source.Published, Text: "Shim, Ahn and Kwak, cholesterol-removed whipping cream, abstract"}
	srcPenfield   = source.Ref{Tag: source.Published, Text: "M. P. Penfield and A. M. Campbell, Experimental Food Science, 3rd ed., 1990, milk chapter"}
	srcCrystal    = source.Ref{Tag: source.Published, Text: "Rheological, textural and structural properties of dairy cream, Chem. Biol. Technol. Agric. (2022), introduction"}
	srcEggSet     = source.Ref{Tag: source.Published, Text: "H.-D. Belitz, W. Grosch and P. Schieberle, Food Chemistry, 2009, 11.4.2"}
	srcSiphonPage = source.Ref{Tag: source.Tertiary, Text: "cooking pages and course hand-outs on siphons"}
	srcCatalogue  = source.Ref{Tag: source.Memory, Text: "hydrocolloid handbooks, dose windows from memory"}
	srcLecithin   = source.Ref{Tag: source.Tertiary, Text: "trade pages on lecithin airs: 0.3-0.8 % and 0.25-1 %"}
	srcPractice   = source.Ref{Tag: source.Practice}

	srcDGCCRF   = source.Ref{Tag: source.Published, Text: "DGCCRF (France), practical sheet on culinary siphons; notices of 22 June 2017 and 2024; notice in JORF no. 254 of 1 November 2011"}
	srcBursting = source.Ref{Tag: source.Published, Text: "loss adjuster's note on serial bursting of whippers; test house bulletin 136/17 (2017)"}
	srcFDA      = source.Ref{Tag: source.Published, Text: "FDA advisory on misuse of nitrous oxide, 14 March 2025, as reported"}
	srcColdBoil = source.Ref{Tag: source.Published, Text: "NIST, Index of Semiconductor Process Gases, nitrous oxide: normal boiling point 184.67 K"}
	srcFoodCode = source.Ref{Tag: source.Published, Text: "FDA Food Code 3-501.16 and 3-501.19 as adopted in Washington 246-215-03525, Maine, Minnesota"}
	srcEngland  = source.Ref{Tag: source.Published, Text: "Food Hygiene Regulations 2006 of Wales, England and Northern Ireland, Schedule 4"}
	srcFSANZ    = source.Ref{Tag: source.Published, Text: "FSANZ and NSW Food Authority, 2-hour/4-hour guide"}
	srcRawEgg   = source.Ref{Tag: source.Published, Text: "FDA Food Code 3-302.13, 3-801.11(B), 3-401.11(A)"}
	srcAllergen = source.Ref{Tag: source.Memory, Text: "Regulation (EU) No 1169/2011, Annex II"}
	srcAerosol  = source.Ref{Tag: source.Tertiary, Text: "ASTM D3075, overrun of food aerosols, as described on a test laboratory's page"}
)

// Constant is one figure of the gas model with its unit and source, for the
// page's list of what was used.
type Constant struct {
	ID     string
	Value  float64
	Unit   string
	Source source.Ref
}

// Constants lists the constants of the gas model.
func Constants() []Constant {
	return []Constant{
		{"gas-constant", gasConstant, "J/(mol K)", srcCODATA},
		{"molar-mass", molarMass * 1000, "g/mol", srcLemmon},
		{"partial-molar-volume", partialMolarVolume * 1e6, "cm³/mol", srcWeissPrice},
		{"henry-a1", henryKg[0], "1", srcWeissPrice},
		{"henry-a2", henryKg[1], "1", srcWeissPrice},
		{"henry-a3", henryKg[2], "1", srcWeissPrice},
		{"salt-b1", saltTerm[0], "1", srcWeissPrice},
		{"salt-b2", saltTerm[1], "1", srcWeissPrice},
		{"salt-b3", saltTerm[2], "1", srcWeissPrice},
		{"oil-gas-37", oilGas37, "1", srcOil},
		{"oil-slope", oilSlope, "K", srcOilSlope},
		{"milk-fat-4", milkFatFactor[0].factor, "1", srcMilkFat},
		{"milk-fat-24", milkFatFactor[1].factor, "1", srcMilkFat},
		{"milk-fat-35", milkFatFactor[2].factor, "1", srcMilkFat},
		{"virial-b0", virialB[0], "cm³/mol", srcNIST},
		{"virial-b1", virialB[1], "cm³/mol", srcNIST},
		{"virial-b2", virialB[2], "cm³/mol", srcNIST},
		{"henry-spread", henrySpreadLow, "1", srcIUPAC},
		{"sugar-spread", sugarSpread, "1", srcSechenov},
		{"alcohol-spread", alcoholSpread, "1", srcKunerth},
		{"water-density-20", float64(waterDensity(20)), "g/ml", srcKell},
		{"critical-temperature", criticalKelvin, "K", srcLemmon},
		{"critical-pressure", criticalPressure, "Pa", srcLemmon},
		{"charge-mass", DefaultCharger.Gas.Typical, "g", srcCharger},
		{"transfer", DefaultCharger.Transfer.Typical, "1", srcCoupling},
	}
}
