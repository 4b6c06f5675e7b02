package lab

import (
	"math"
	"strconv"
)

// path writes the d attribute of an SVG path (SVG 2, 9.3) with a tenth of a
// unit's precision.
type path struct{ b []byte }

func (p *path) number(v float64) {
	if v == math.Trunc(v) {
		p.b = strconv.AppendInt(p.b, int64(v), 10)
		return
	}
	p.b = strconv.AppendFloat(p.b, v, 'f', 1, 64)
}

func (p *path) point(op byte, x, y float64) {
	p.b = append(p.b, op)
	p.number(x)
	p.b = append(p.b, ' ')
	p.number(y)
}

func (p *path) move(x, y float64) { p.point('M', x, y) }
func (p *path) line(x, y float64) { p.point('L', x, y) }
func (p *path) close()            { p.b = append(p.b, 'Z') }

// dot is a circle.
func (p *path) dot(x, y, r float64) {
	p.move(x-r, y)
	for _, side := range [...]float64{1, -1} {
		p.b = append(p.b, 'A')
		p.number(r)
		p.b = append(p.b, ' ')
		p.number(r)
		p.b = append(p.b, " 0 0 1 "...)
		p.number(x + side*r)
		p.b = append(p.b, ' ')
		p.number(y)
	}
	p.close()
}

func (p *path) String() string { return string(p.b) }
