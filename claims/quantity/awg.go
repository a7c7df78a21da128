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

func (p *parser) gauge(at int, n float64) (float64, error) {
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
	at := p.at
	n, err := strconv.Atoi(strings.TrimSpace(rest[3:]))
	if err != nil {
		return 0, false, p.fail(at+3, ErrNumber, "a gauge should stand after AWG")
	}
	v, err := p.gauge(at, float64(n))
	if err != nil {
		return 0, false, err
	}
	return v, true, nil
}
