package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Wire gauges AWG 0 to 40 are taken; 0000 to 00 do not occur in cables.
const (
	minGauge = 0
	maxGauge = 40
)

// GaugeArea is the copper cross-section of a solid AWG wire in m², by the
// formula of ASTM B258: the diameter is 0.005 in × 92^((36−n)/39). Fractions
// between gauges are allowed.
func GaugeArea(n float64) float64 {
	d := 0.005 * inch * math.Pow(92, (36-n)/39)
	return math.Pi / 4 * d * d
}

// AreaGauge is the AWG number of a cross-section in m², with fractions: the
// inverse of GaugeArea.
func AreaGauge(area float64) float64 {
	d := math.Sqrt(4 * area / math.Pi)
	return 36 - 39*math.Log(d/(0.005*inch))/math.Log(92)
}

// gauge gives the area of the gauge whose number stands at a byte offset.
func (p *parser) gauge(at int, n float64) (float64, error) {
	// 00 is a gauge of its own, two steps thicker than 0.
	if strings.HasPrefix(p.text[at:], "0") && strings.TrimLeft(p.text[at:], "0123456789") != p.text[at+1:] {
		return 0, p.fail(at, ErrRange, "a gauge begins with no further 0; 00 and thicker are not read")
	}
	if n != math.Trunc(n) || n < minGauge || n > maxGauge {
		return 0, p.fail(at, ErrRange, "a gauge is a whole number from %d to %d", minGauge, maxGauge)
	}
	return GaugeArea(n), nil
}

// gaugeFirst reads "AWG 20" and "AWG20".
func (p *parser) gaugeFirst() (float64, bool, error) {
	rest := p.text[p.at:]
	if len(rest) < 3 || !strings.EqualFold(rest[:3], "AWG") {
		return 0, false, nil
	}
	number := strings.TrimLeft(rest[3:], " \t\u00a0")
	n, err := strconv.ParseUint(strings.TrimSpace(number), 10, 16)
	if err != nil {
		return 0, false, p.fail(p.at+3, ErrNumber, "a gauge, a whole number, should stand after AWG")
	}
	v, err := p.gauge(len(p.text)-len(number), float64(n))
	if err != nil {
		return 0, false, err
	}
	return v, true, nil
}
