package main

import (
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/pflag"

	"example.com/gainsay/claims/publish"
	"example.com/gainsay/claims/quantity"
	"example.com/gainsay/vdo"
	"example.com/gainsay/vdo/paste"
	"example.com/gainsay/vdo/signal"
)

// captureFlags are the options of decode for captures of the CC line.
func captureFlags(fs *pflag.FlagSet) {
	fs.Bool("capture", false, "the files are captures of the CC line: a value change dump or a table of time and level (files ending in .vcd always are)")
	fs.String("wire", "", "`NAME` of the wire or column in a capture; else the one with the most packets")
	fs.String("threshold", "", "`VOLTAGE` that parts low from high in a capture, as \"0.55 V\"; else midway")
}

// captureOptions reads them.
func (d *decoder) captureOptions(fs *pflag.FlagSet) bool {
	d.capture, _ = fs.GetBool("capture")
	d.signal.Wire, _ = fs.GetString("wire")
	if t, _ := fs.GetString("threshold"); t != "" {
		v, err := quantity.Parse(t, quantity.Voltage)
		if err != nil {
			d.fail("decode: --threshold: %s", publish.Plain(err.Error()))
			return false
		}
		d.signal.Threshold = &v
	}
	return true
}

func isCapture(name string) bool { return strings.EqualFold(filepath.Ext(name), ".vcd") }

// captured decodes a capture of the CC line: every packet in order, with the
// time it began.
func (d *decoder) captured(in input) {
	defer in.Close()
	for p, err := range signal.Read(in, d.signal) {
		if d.lost() {
			return
		}
		var broken *signal.BrokenError
		if err != nil {
			d.problem(fmt.Sprintf("%s: %v", in.name, err), nil)
			if !errors.As(err, &broken) || len(p.Message.Objects) == 0 {
				continue
			}
		}
		if p.Set.Reset() {
			d.aside(publish.SetAside{Version: publish.FormatVersion, SetAside: p.Set.String(), Time: seconds(p)})
			continue
		}
		how := fmt.Sprintf("capture of %s, %.1f kbps", wireName(p.Wire), p.BitRate/1e3)
		item := paste.FromFrame(p.Message, p.Plug(), how)
		if item.Skipped != nil {
			d.aside(publish.SetAside{Version: publish.FormatVersion, SetAside: item.Skipped.Why, Time: seconds(p)})
			continue
		}
		m := *item.Message
		remarks := []string{"began " + atSecond(*seconds(p)) + " of the capture"}
		if broken != nil {
			remarks = append(remarks, "the packet did not arrive whole: "+strings.ReplaceAll(broken.Cause.Error(), "\n", "; and ")) // several are joined
		}
		m.Remarks = append(append(remarks, p.Remarks...), m.Remarks...)
		if m.Plug == vdo.PlugUnknown {
			m.Plug = d.plug
		}
		d.message(m, seconds(p))
	}
}

func wireName(name string) string {
	if name == "" {
		return "the CC line"
	}
	return name
}

func seconds(p signal.Packet) *float64 {
	s := p.Start.Seconds()
	return &s
}

// atSecond prints when in a capture something began.
func atSecond(s float64) string { return fmt.Sprintf("at %.6f s", s) }
