package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A record made of a port holds what the kernel shows and no more, whatever of it is
// hidden, unreadable or not there yet: it never says that a marker was asked and stayed
// silent, and check reads it.
func TestPortsRecordIsSeen(t *testing.T) {
	words := map[string]string{"id_header": "0x18602fa1", "cert_stat": "0x0", "product": "0x01020100", "product_type_vdo1": "0x000a2643", "product_type_vdo2": "0x0", "product_type_vdo3": "0x0"}
	type fault struct {
		name, file string
		set        *string // nil takes the file away
		status     int
		note       string
	}
	text := func(s string) *string { return &s }
	faults := []fault{{name: "whole", file: "type", set: text("passive"), status: exitDone}}
	for w := range words {
		faults = append(faults, fault{w + " unreadable", "identity/" + w, text("what"), exitUndone, "is left out"})
	}
	faults = append(faults,
		fault{"hidden", "identity", nil, exitDone, "is left out"},
		fault{"an old kernel", "identity/product_type_vdo*", nil, exitDone, "Shown of it: 18602FA1"},
		fault{"not there yet", "zeros", nil, exitDone, "is left out"},
		fault{"a newline in a name", "identity/cert_stat", text("a\nb"), exitUndone, "is left out"})
	for _, f := range faults {
		t.Run(f.name, func(t *testing.T) {
			root := t.TempDir()
			cable := filepath.Join(root, "sys/class/typec/port0-cable")
			write := func(name, text string) {
				name = filepath.Join(cable, name)
				if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
					t.Fatal(err)
				}
				if err := os.WriteFile(name, []byte(text+"\n"), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			write("../port0/data_role", "[host] device")
			write("usb_power_delivery_revision", "3.0")
			for w, value := range words {
				if f.file == "zeros" {
					value = "0x0"
				}
				write("identity/"+w, value)
			}
			if f.set != nil {
				write(f.file, *f.set)
			} else {
				found, _ := filepath.Glob(filepath.Join(cable, f.file))
				for _, name := range found {
					os.RemoveAll(name)
				}
			}
			code, rec, errs := gainsay(t, "", "ports", "--record", "--root", root)
			if code != f.status || code == exitDone && errs != "" {
				t.Errorf("exit %d, want %d; stderr %q", code, f.status, errs)
			}
			near := strings.Contains(rec, "\n  near: |")
			if asked := strings.Contains(rec, "\n  asked: true"); asked != near || near != (f.note == "") {
				t.Errorf("asked %v, words %v:\n%s", asked, near, rec)
			}
			if !strings.Contains(rec, f.note) {
				t.Errorf("%q is missing:\n%s", f.note, rec)
			}
			if code, _, errs := gainsay(t, rec, "check", "-"); code != exitDone || errs != "" {
				t.Errorf("check: exit %d, %q of\n%s", code, errs, rec)
			}
		})
	}
}

// No link leads out of the folder that --root names, and what a link outside would have
// shown is not shown.
func TestPortsRootConfined(t *testing.T) {
	outside, root := t.TempDir(), t.TempDir()
	class := filepath.Join(root, "sys/class/typec")
	for _, dir := range []string{filepath.Join(outside, "identity"), filepath.Join(class, "port0"), filepath.Join(class, "port1-cable/identity"), filepath.Join(root, "sys/devices/port2-cable")} {
		if err := os.MkdirAll(dir, 0o777); err != nil {
			t.Fatal(err)
		}
	}
	for name, text := range map[string]string{
		filepath.Join(outside, "identity/id_header"):             "0x11112222",
		filepath.Join(outside, "type"):                           "passive",
		filepath.Join(root, "sys/devices/port2-cable/plug_type"): "type-c",
	} {
		if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	up, err := filepath.Rel(class, outside)
	if err != nil {
		t.Fatal(err)
	}
	for link, to := range map[string]string{
		"port0-cable":                    outside,                                      // absolute
		"port3-cable":                    up,                                           // relative
		"port1-cable/type":               filepath.Join("..", up, "type"),              // a file
		"port1-cable/identity/id_header": filepath.Join(outside, "identity/id_header"), // a file, absolute
		"port2-cable":                    "../../devices/port2-cable",                  // within
	} {
		if err := os.Symlink(to, filepath.Join(class, link)); err != nil {
			t.Skip(err)
		}
	}
	_, out, errs := gainsay(t, "", "ports", "--words", "--root", root)
	for _, secret := range []string{"11112222", "passive"} {
		if strings.Contains(out+errs, secret) {
			t.Errorf("%q of a file outside is shown:\n%s%s", secret, out, errs)
		}
	}
	if !strings.Contains(out, "type-c") || !strings.Contains(out+errs, "escapes") {
		t.Errorf("a link within is not followed, or one that leads out is not named:\n%s%s", out, errs)
	}
}
