package cool

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"tremblant/internal/note"
	"tremblant/internal/unit"
)

var gel = Properties{Conductivity: 0.58, HeatCapacity: 4050, Density: 1.03}

func TestProperties(t *testing.T) {
	for _, row := range table(t, "plan-properties.csv") {
		part := func(name string) unit.Fraction { return unit.Fraction(figure(t, row[name])) }
		c := Composition{Water: part("water"), Protein: part("protein"), Fat: part("fat"),
			Carbohydrate: part("carbohydrate"), Fibre: part("fibre"), Ash: part("ash")}
		p, err := c.At(unit.Celsius(figure(t, row["temperature_C"])))
		require.NoError(t, err)
		assert.InDelta(t, figure(t, row["k_W_mK"]), p.Conductivity, 0.0011, row["food"])
		assert.InDelta(t, figure(t, row["cp_J_kgK"]), p.HeatCapacity, 4, row["food"])
		assert.InDelta(t, figure(t, row["rho_kg_m3"]), float64(p.Density)*1000, 1.1, row["food"])
		assert.InDelta(t, figure(t, row["alpha_m2_s"]), p.Diffusivity(), 0.0051e-7*2, row["food"])
	}
}

// job rebuilds the case of one row of the cooling table: vessel by name, one
// heat transfer coefficient a face.
func job(t *testing.T, row map[string]string) Job {
	t.Helper()
	j := Job{Properties: gel, Start: 90}
	top, bottom, two := strings.Cut(row["h_top_bottom_W_m2K"], "/")
	if !two {
		bottom = top
	}
	ambient := unit.Celsius(4)
	switch {
	case strings.Contains(row["medium"], "0.5 C"):
		ambient = 0.5
	case strings.Contains(row["medium"], "2 C"):
		ambient = 2
	}
	base := ambient
	if strings.Contains(row["medium"], "ice bath below") {
		base = 0.5 // the row's text gives only the air above
	}
	j.Medium = Medium{Base: Face{unit.Exactly(figure(t, bottom)), base}, Open: Face{unit.Exactly(figure(t, top)), ambient}}
	j.Load = load(t, row["case"])
	return j
}

func load(t *testing.T, name string) Load {
	mixed := strings.Contains(name, "well mixed")
	switch {
	case strings.HasPrefix(name, "tray"):
		var cm float64
		_, err := fmt.Sscanf(name, "tray %f cm", &cm)
		require.NoError(t, err)
		return Load{Vessel: Tray, Depth: cm * 10}
	case strings.HasPrefix(name, "bottle"):
		return Load{Vessel: Bottle, Radius: 39, Height: 102, Mixed: mixed}
	}
	return Load{Vessel: Bowl, Radius: 61, Mixed: mixed}
}

// TestCoolingTable compares with cases worked elsewhere by implicit finite
// volumes, by series and by the lumped model. The lumped rows print a rounded
// area and the bottle a rounded radius, hence 2 %; the short ones are printed to 0.1 min.
func TestCoolingTable(t *testing.T) {
	for _, row := range table(t, "plan-cooling.csv") {
		t.Run(row["case"]+" "+row["medium"], func(t *testing.T) {
			c, err := New(job(t, row))
			require.NoError(t, err)
			for _, target := range []unit.Celsius{40, 20, 5} {
				want := figure(t, row[fmt.Sprintf("minutes_to_%gC", float64(target))])
				got, err := c.TimeTo(target)
				require.NoError(t, err)
				assert.InDelta(t, want, got.Typical/60, max(0.02*want, 0.1), "to %v", target)
			}
		})
	}
}

// TestTrayRowsAreTight: the tray rows come from the same equations, so 0.6 % is enough.
func TestTrayRowsAreTight(t *testing.T) {
	for _, row := range table(t, "plan-cooling.csv") {
		if !strings.HasPrefix(row["case"], "tray") {
			continue
		}
		c, err := New(job(t, row))
		require.NoError(t, err)
		got, err := c.TimeTo(20)
		require.NoError(t, err)
		assert.InEpsilon(t, figure(t, row["minutes_to_20C"]), got.Typical/60, 0.006, row["case"]+row["medium"])
	}
}

func fridgeTray(t *testing.T, depth float64) *Curve {
	t.Helper()
	m, ok := FindMedium("still-fridge")
	require.True(t, ok)
	c, err := New(Job{Load: Load{Vessel: Tray, Depth: depth}, Medium: m, Properties: gel, Start: 90, Mass: 2000})
	require.NoError(t, err)
	return c
}

func TestRangeAndMilestones(t *testing.T) {
	c := fridgeTray(t, 20)
	ms := c.Milestones(40, 10, 8, 5)
	for _, m := range ms {
		require.Nil(t, m.Refusal)
		assert.True(t, m.Time.Valid() && m.Time.Low < m.Time.Typical && m.Time.Typical < m.Time.High, "%+v", m)
	}
	// From 8 to 5 °C in air of 4 °C takes two fifths again of all the time before.
	assert.Greater(t, ms[3].Time.Typical, 1.4*ms[2].Time.Typical)
	require.Len(t, ms[3].Notes, 1)
	assert.Equal(t, CodeLastDegrees, ms[3].Notes[0].Code)
	assert.Empty(t, ms[0].Notes)
	for _, m := range ms {
		at := c.Hottest(unit.Seconds(m.Time.Typical))
		assert.InDelta(t, float64(m.Target), at.Typical, 1e-6)
		assert.Less(t, at.Low, at.High)
	}
}

func TestRefusals(t *testing.T) {
	still, _ := FindMedium("still-fridge")
	ice, _ := FindMedium("ice-bath-still")
	room, _ := FindMedium("room")
	ok := Job{Load: Load{Vessel: Tray, Depth: 20}, Medium: still, Properties: gel, Start: 90}
	for _, c := range []struct {
		name   string
		change func(*Job)
		target unit.Celsius
		code   note.Code
	}{
		{"colder than the fridge", func(*Job) {}, 3, CodeUnreachable},
		{"as cold as the fridge", func(*Job) {}, 4, CodeUnreachable},
		{"warm air above keeps the top warm", func(j *Job) { j.Medium = ice; j.Load.Depth = 60 }, 5, CodeUnreachable},
		{"frozen", func(*Job) {}, -2, CodeFrozen},
		{"target NaN", func(*Job) {}, unit.Celsius(math.NaN()), CodeBadTemperature},
		{"start NaN", func(j *Job) { j.Start = unit.Celsius(math.NaN()) }, 5, CodeBadTemperature},
		{"start above boiling syrup", func(j *Job) { j.Start = 200 }, 5, CodeBadTemperature},
		{"no depth", func(j *Job) { j.Load.Depth = 0 }, 5, CodeBadLength},
		{"endless depth", func(j *Job) { j.Load.Depth = math.Inf(1) }, 5, CodeBadLength},
		{"bottle without height", func(j *Job) { j.Load = Load{Vessel: Bottle, Radius: 30} }, 5, CodeBadLength},
		{"unknown vessel", func(j *Job) { j.Load.Vessel = 99 }, 5, CodeBadLength},
		{"wall", func(j *Job) { j.Load.Wall = -1 }, 5, CodeBadLength},
		{"no conductivity", func(j *Job) { j.Properties.Conductivity = 0 }, 5, CodeBadProperties},
		{"no transfer", func(j *Job) { j.Medium.Base.H = unit.Exactly(0) }, 5, CodeBadMedium},
		{"range upside down", func(j *Job) { j.Medium.Open.H = unit.Range{Low: 3, Typical: 2, High: 1} }, 5, CodeBadMedium},
		{"room warmer than the food", func(j *Job) { j.Medium = room; j.Start = 15 }, 5, CodeMediumWarmer},
	} {
		t.Run(c.name, func(t *testing.T) {
			j := ok
			c.change(&j)
			curve, err := New(j)
			if err == nil {
				_, err = curve.TimeTo(c.target)
			}
			var r *note.Refusal
			require.ErrorAs(t, err, &r)
			assert.Equal(t, c.code, r.Code)
		})
	}
}

func TestAlreadyCold(t *testing.T) {
	c := fridgeTray(t, 20)
	r, err := c.TimeTo(95)
	require.NoError(t, err)
	assert.Zero(t, r)
}

func TestWallSlowsAnIceBathAndHardlyAFridge(t *testing.T) {
	minutes := func(medium string, wall float64) float64 {
		m, _ := FindMedium(medium)
		c, err := New(Job{Load: Load{Vessel: Bottle, Radius: 39, Height: 102, Mixed: true, Wall: wall}, Medium: m, Properties: gel, Start: 90})
		require.NoError(t, err)
		r, err := c.TimeTo(20)
		require.NoError(t, err)
		return r.Typical / 60
	}
	plastic := Walls[2].Resistance
	assert.Greater(t, minutes("ice-bath-stirred", plastic), 4*minutes("ice-bath-stirred", 0))
	assert.Less(t, minutes("still-fridge", plastic), 1.1*minutes("still-fridge", 0))
}

func TestCatalogue(t *testing.T) {
	for _, m := range Media {
		assert.True(t, m.Source.Valid(), m.ID)
		assert.True(t, m.Base.H.Valid() && m.Base.H.Low > 0 && m.Open.H.Valid(), m.ID)
	}
	for _, w := range Walls {
		assert.True(t, w.Source.Valid() && w.Resistance > 0, w.ID)
	}
}

func FuzzCool(f *testing.F) {
	f.Add(uint8(0), 20.0, 8.0, 8.0, 4.0, 90.0, 5.0, 600.0)
	f.Add(uint8(1), 0.1, 1e5, 0.01, -60.0, 150.0, 0.0, 1e300)
	f.Add(uint8(4), 2000.0, 1e-9, 1e9, math.NaN(), 1e-9, 1e-9, -1.0)
	f.Fuzz(func(t *testing.T, vessel uint8, size, h, h2, medium, start, target, at float64) {
		face1, face2 := Face{unit.Exactly(h), unit.Celsius(medium)}, Face{unit.Exactly(h2), unit.Celsius(medium)}
		c, err := New(Job{Load: Load{Vessel: Vessel(vessel), Depth: size, Length: size, Width: size, Radius: size, Height: size, Mixed: vessel > 100},
			Medium: Medium{Base: face1, Open: face2}, Properties: gel, Start: unit.Celsius(start)})
		if err != nil {
			return
		}
		if now := c.Hottest(unit.Seconds(at)); !now.Valid() || now.High > start+1e-6 || now.Low < medium-1e-6 {
			t.Fatalf("hottest %v", now)
		}
		if r, err := c.TimeTo(unit.Celsius(target)); err == nil && !r.Valid() {
			t.Fatalf("time %v", r)
		}
	})
}

func ExampleCurve_TimeTo() {
	m, _ := FindMedium("fan-fridge")
	props, _ := Composition{Water: 0.85, Carbohydrate: 0.15}.At(40)
	c, _ := New(Job{Load: Load{Vessel: Tray, Depth: 20}, Medium: m, Properties: props, Start: 85})
	r, _ := c.TimeTo(40)
	fmt.Printf("%.0f to %.0f minutes, typically %.0f\n", r.Low/60, r.High/60, r.Typical/60)
	// Output: 23 to 50 minutes, typically 32
}

func BenchmarkMilestones(b *testing.B) {
	m, _ := FindMedium("still-fridge-steel")
	for b.Loop() {
		c, err := New(Job{Load: Load{Vessel: Tray, Depth: 20}, Medium: m, Properties: gel, Start: 90})
		if err != nil {
			b.Fatal(err)
		}
		c.Milestones(40, 10, 8, 5)
	}
}
