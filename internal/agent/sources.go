package agent

import "tremblant/internal/source"

// The sources of the catalogue. A constant that ends in a tag's initial holds
// the same work read in another way; only Published means read in the work. One
// that ends in M is of figures from memory for which a work gives the direction.
const (
	cNone Cite = iota
	cMcGee
	cHandbook
	cTexture
	cSag
	cTestJelly
	cGellanTang
	cGellanPH
	cKappaK
	cKappaLBG
	cCarrLBG
	cKappaGal
	cKappaKonjac
	cKonjacBlend
	cXanLBG
	cAgarGums
	cGracilaria
	cAgarThreshold
	cAgarSugar
	cAgarGelatin
	cGelatinNet
	cDysphagia
	cEFSA
	cFSS
	cFDA
	cAgarFAO
	cEasy
	cKonjacTable
	cGelatinMaker
	cAgarMaker
	cGellanMaker
	cCarrAcid
	cAirBlog
	cXanNote
	cGMIA
	cPhantom
	cLaw
	cLabelLaw
	cFoamEgg
	cAgarTemp
	cIotaBui
	cGellanPectin
	cTrade
	cMem
	cPrac
	cMolar
	cBloomD
	cGellanD
	cAlginateD
	cMilkD
	cSheets
	cAgarAcidD
	cLikeD
	cAgarPower
	cAgarTempM
	cAgarSugarM
	cGracilariaM
	cMcGeeM
	cGellanTangM
	cGellanPHM
	cKappaKM
	cIotaBuiM
	cTradeM
)

var sources = [...]source.Ref{
	cNone:          {},
	cMcGee:         {Tag: source.Published, Text: "McGee, On Food and Cooking, 2004"},
	cHandbook:      {Tag: source.Published, Text: "Phillips & Williams (eds.), Handbook of Hydrocolloids, 3rd ed., 2021, gellan chapter"},
	cTexture:       {Tag: source.Open, Text: "Lersch (ed.), Texture: a hydrocolloid recipe collection, 2008–2014"},
	cSag:           {Tag: source.Published, Text: "Nielsen, Marr & Hvidt, Carbohydrate Polymers 45 (2001) 395–401"},
	cTestJelly:     {Tag: source.Published, Text: "University laboratory sheet, jelly grade of pectin by test jellies"},
	cGellanTang:    {Tag: source.Published, Text: "Tang, Tung & Zeng, Carbohydrate Polymers 29 (1996) 11–16"},
	cGellanPH:      {Tag: source.Published, Text: "Tang et al., effect of pH buffers on gellan gels (abstract)"},
	cKappaK:        {Tag: source.Published, Text: "J. Home Economics Japan 39(12) 1249, κ-carrageenan and cations"},
	cKappaLBG:      {Tag: source.Published, Text: "J. Home Economics Japan 41(2) 133, κ-carrageenan with locust bean gum"},
	cCarrLBG:       {Tag: source.Published, Text: "J. Home Economics Japan 34(4) 206, carrageenan with locust bean, tara and guar gum"},
	cKappaGal:      {Tag: source.Published, Text: "Ichikawa & Kawabata, Biosci. Biotech. Biochem. 59 (1995) 5–10"},
	cKappaKonjac:   {Tag: source.Published, Text: "J. Sci. Food Agric. 101 (2021) 3021–3029, κ-carrageenan/konjac and milk pudding"},
	cKonjacBlend:   {Tag: source.Published, Text: "Akesowan, Adv. J. Food Sci. Technol. 6 (2014) 961; Pak. J. Agri. Sci. 52 (2015) 1099"},
	cXanLBG:        {Tag: source.Published, Text: "Rheology of xanthan/locust bean gum, Polymers 15 (2023) 4604"},
	cAgarGums:      {Tag: source.Published, Text: "Functional properties of agar with arabic, guar, locust bean and konjac gum (abstract)"},
	cGracilaria:    {Tag: source.Published, Text: "Agar from Gracilaria with NaCl, CaCl2 and sucrose (abstract)"},
	cAgarThreshold: {Tag: source.Published, Text: "Dapčević Hadnađev et al., Food & Feed Research 36 (2009) 69–74"},
	cAgarSugar:     {Tag: source.Published, Text: "Maurer, Junghans & Vilgis, Food Hydrocolloids 29 (2012) 298; Watase et al., J. Agric. Food Chem. 38 (1990) 1181"},
	cAgarGelatin:   {Tag: source.Published, Text: "J. Home Economics Japan 26(4), gelatin-agar jelly"},
	cGelatinNet:    {Tag: source.Published, Text: "Joly-Duhamel et al., Langmuir 18 (2002) 7158; Ohkubo et al., Imaging Sci. J. 47 (1999) 147"},
	cDysphagia:     {Tag: source.Published, Text: "Sakai et al., Jpn J. Dysphagia Rehab. 10 (2006) 239"},
	cEFSA:          {Tag: source.Published, Text: "EFSA AFC Panel, opinion on jelly mini-cups, EFSA Journal 82 (2004)"},
	cFSS:           {Tag: source.Published, Text: "Food Standards Scotland, import ban on jelly sweets"},
	cFDA:           {Tag: source.Published, Text: "US FDA, Import Alert 33-15, konjac mini-cup gel candies, 2001, republished 2020"},
	cAgarFAO:       {Tag: source.Published, Text: "Armisén & Galatas, FAO Fisheries Technical Paper 288, 1987, ch. 1"},
	cEasy:          {Tag: source.Published, Text: "Logsdon, Modernist Cooking Made Easy, 2012"},
	cKonjacTable:   {Tag: source.Tertiary, Text: "Hydrocolloid reference table on a trade page (ethanol, pH and solids limits)"},
	cGelatinMaker:  {Tag: source.Tertiary, Text: "Gelatin makers' technical pages"},
	cAgarMaker:     {Tag: source.Tertiary, Text: "Hydrocolloid trade pages, agar in acid"},
	cGellanMaker:   {Tag: source.Tertiary, Text: "Gellan makers' technical pages (hydration, citrate)"},
	cCarrAcid:      {Tag: source.Published, Text: "Carrageenan chapter of a food-gel handbook (believed Thomas, in Imeson, 1992)"},
	cAirBlog:       {Tag: source.Tertiary, Text: "Moen, In my lab: foams, 2014"},
	cXanNote:       {Tag: source.Published, Text: "Myhrvold et al., Modernist Cuisine, note on xanthan"},
	cGMIA:          {Tag: source.Memory, Text: "GMIA, Gelatin Handbook, 2012"},
	cPhantom:       {Tag: source.Memory, Text: "Hall et al., IEEE Trans. UFFC 44 (1997) 1355, and dose from Bloom by punch mechanics"},
	cLaw:           {Tag: source.Memory, Text: "Regulation (EC) 1333/2008"},
	cLabelLaw:      {Tag: source.Memory, Text: "Regulation (EU) 1169/2011, Annex II"},
	cFoamEgg:       {Tag: source.Published, Text: "Lomakina & Míková, Czech J. Food Sci. 24 (2006) 110; whey and egg white foams with sucrose, 2011"},
	cAgarTemp:      {Tag: source.Published, Text: "J. Home Economics Japan 36(6), elasticity of agar and carrageenan gels against temperature"},
	cIotaBui:       {Tag: source.Published, Text: "Bui et al., 2019, calcium and potassium in iota and kappa carrageenan (abstract)"},
	cGellanPectin:  {Tag: source.Published, Text: "Food Science 38 (2017), low-acyl gellan with low-methoxyl pectin (abstract)"},
	cTrade:         {Tag: source.Tertiary, Text: "Trade pages, labels and cooking sites"},
	cMem:           {Tag: source.Memory, Text: "Phillips & Williams (eds.), Handbook of Hydrocolloids; Imeson (ed.), Food Stabilisers, Thickeners and Gelling Agents"},
	cPrac:          {Tag: source.Practice, Text: ""},
	cMolar:         {Tag: source.Derived, Text: "Molar masses, IUPAC standard atomic weights"},
	cBloomD:        {Tag: source.Derived, Text: "Bloom definition by punch mechanics; Ohkubo et al. 1999 for the exponent"},
	cGellanD:       {Tag: source.Derived, Text: "0.5 calcium per carboxyl (Tang et al. 1996), repeat unit 668.5 g/mol from memory"},
	cAlginateD:     {Tag: source.Derived, Text: "Half of the carboxylate, repeat unit 198.1 g/mol as dry sodium salt"},
	cMilkD:         {Tag: source.Derived, Text: "Water model with a third to a fifth of the dose, as casein binds carrageenan; factor from memory"},
	cSheets:        {Tag: source.Open, Text: "Lersch (ed.), Texture, release note of version 2.1, and pastry trade pages"},
	cAgarAcidD:     {Tag: source.Derived, Text: "First-order loss in acid, by analogy with the carrageenan rule"},
	cLikeD:         {Tag: source.Derived, Text: "Taken from the nearest measured agent of the catalogue, with a wider range"},
	cAgarPower:     {Tag: source.Derived, Text: "Strength of 82 to 535 g/cm² at 0.5 to 1.5 % agar (Shauli & Salomon, Phycology 5 (2025) 6) gives an exponent of 1.7"},
	cAgarTempM:     {Tag: source.Memory, Text: "Figures from memory; that it falls with heat: J. Home Economics Japan 36(6)"},
	cAgarSugarM:    {Tag: source.Memory, Text: "Figures from memory; that sugar raises it to about 40 % and can lower it at 60 %: Maurer, Junghans & Vilgis 2012; Watase et al. 1990"},
	cGracilariaM:   {Tag: source.Memory, Text: "Figures from memory; that a little salt raises it and more lowers it: Gracilaria agar with NaCl (abstract)"},
	cMcGeeM:        {Tag: source.Memory, Text: "Figures from memory; which way it goes: McGee, On Food and Cooking, 2004"},
	cGellanTangM:   {Tag: source.Memory, Text: "Figures from memory; where the best calcium lies: Tang, Tung & Zeng 1996"},
	cGellanPHM:     {Tag: source.Memory, Text: "Figures from memory; that it is brittle at pH 3.5: Tang et al. (abstract)"},
	cKappaKM:       {Tag: source.Memory, Text: "Figures from memory; where the best potassium lies: J. Home Economics Japan 39(12) 1249"},
	cIotaBuiM:      {Tag: source.Memory, Text: "Figures from memory; that calcium sets it: Bui et al., 2019 (abstract)"},
	cTradeM:        {Tag: source.Memory, Text: "Figures from memory; the usable pH: trade pages"},
}
