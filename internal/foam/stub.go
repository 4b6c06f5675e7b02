package foam
import "tremblant/internal/unit"
var DefaultCharger = struct{Gas, Transfer unit.Range}{}
