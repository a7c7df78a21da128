package vdo_test

import (
	"bufio"
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	. "example.com/gainsay/vdo"
)

// The Linux kernel's headers include/linux/usb/pd_vdo.h, typec_tbt.h and
// typec_dp.h (PD R2.0, and PD R3.0 V2.0 with ECNs of 2020) have macros that
// compose and take apart the same words. testdata/kernel/compose.c is compiled
// with them when the test runs; its words and numbers are compared with Compose
// and Read, its constants with the meanings.
//
// Debian has the headers in the packages linux-headers-*-common. The test looks
// below /usr/src, or in the include directories that GAINSAY_KERNEL_HEADERS
// lists. Without headers or gcc it is skipped, unless GAINSAY_REQUIRE_KERNEL is 1.
//
// Where the kernel's headers differ from the tables this package follows:
//
//   - Bit 17 of the passive and the active word is EPR since PD R3.1; the kernel
//     has it reserved.
//   - Bit 1 of the second active word is asymmetric mode; the kernel has it
//     reserved. Speed 100b (USB4 Gen 4) has no constant.
//   - Bits 12:11 of the VDM header are the minor version since PD R3.1 V1.6; the
//     kernel has them reserved.
//   - VDO_CABLE, the PD 2.0 word, takes 3 bits of the hardware version, the
//     firmware version and the latency; the fields have 4, as its own comment
//     says. Those fields are compared up to 7, and to 15 in the PD 3.x words.
//   - A comment gives the passive termination as 10b and 01b; the constants are 0
//     and 1, as here.
//   - 30 V and 40 V are plain voltages to the kernel; they are deprecated since.
//   - Current 00b is "default" to the kernel in every word. That is so in the active
//     word; it is invalid in the passive one and reserved under PD 2.0.
//   - Linux 6.12 lists the DisplayPort signalling field as values, 3 for UHBR20;
//     the field is a bit mask, so that 3 is HBR3 with UHBR10. Only its position and
//     the values 1 and 2 are compared.
//   - TBT_ENTER_MODE_ACTIVE_CABLE is bit 24 in Linux 6.1; that is the Enter Mode
//     word, which this package does not read.

// withoutMacro are the fields the kernel's headers, or those of 6.1, know nothing
// of. Every other field that is not reserved must have been compared.
var withoutMacro = map[string]bool{
	"vdm-header version-minor":           true,
	"unstructured-header vendor-data":    true,
	"passive-cable epr":                  true,
	"active-cable-1 epr":                 true,
	"passive-cable-pd2 receptacle":       true,
	"active-cable-pd2 receptacle":        true,
	"active-cable-2 asymmetric":          true,
	"thunderbolt-cable active":           true, // in 6.12
	"displayport-cable version":          true, // in 6.12
	"displayport-cable active-component": true, // in 6.12
	"displayport-cable uhbr13.5":         true, // in 6.12
	"displayport-cable signalling":       true, // in 6.12
	"data data":                          true,
}

// What the kernel's constants stand for, in this package's words. The voltages
// 30, 40 and, in a VPD, 50 V are deprecated since; all others are defined.
var constantMeanings = map[string]string{
	"CMDT_INIT": "request", "CMDT_RSP_ACK": "ACK", "CMDT_RSP_NAK": "NAK", "CMDT_RSP_BUSY": "BUSY",
	"CMD_DISCOVER_IDENT": "Discover Identity", "CMD_DISCOVER_SVID": "Discover SVIDs", "CMD_DISCOVER_MODES": "Discover Modes",
	"CMD_ENTER_MODE": "Enter Mode", "CMD_EXIT_MODE": "Exit Mode", "CMD_ATTENTION": "Attention",
	"DP_CMD_STATUS_UPDATE": "command 16 of the SVID", "DP_CMD_CONFIGURE": "command 17 of the SVID",
	"USB_SID_PD": "USB PD", "USB_SID_DISPLAYPORT": "DisplayPort", "USB_SID_MHL": "MHL", "USB_TYPEC_TBT_SID": "Thunderbolt",
	"IDH_PTYPE_UNDEF": "undefined", "IDH_PTYPE_NOT_UFP": "not a USB device", "IDH_PTYPE_HUB": "hub", "IDH_PTYPE_PERIPH": "peripheral",
	"IDH_PTYPE_PSD": "power supply", "IDH_PTYPE_AMA": "alternate mode adapter", "IDH_PTYPE_NOT_CABLE": "not a cable plug",
	"IDH_PTYPE_PCABLE": "passive cable", "IDH_PTYPE_ACABLE": "active cable", "IDH_PTYPE_VPD": "VCONN-powered USB device",
	"IDH_PTYPE_NOT_DFP": "not a host", "IDH_PTYPE_DFP_HUB": "hub", "IDH_PTYPE_DFP_HOST": "host", "IDH_PTYPE_DFP_PB": "power source",
	"CABLE_VDO_VER1_0": "1.0", "CABLE_VDO_VER1_3": "1.3",
	"CABLE_ATYPE": "Type-A", "CABLE_BTYPE": "Type-B", "CABLE_CTYPE": "Type-C", "CABLE_CAPTIVE": "captive",
	"CABLE_LATENCY_1M": "about 1 m", "CABLE_LATENCY_2M": "about 2 m", "CABLE_LATENCY_3M": "about 3 m", "CABLE_LATENCY_4M": "about 4 m",
	"CABLE_LATENCY_5M": "about 5 m", "CABLE_LATENCY_6M": "about 6 m", "CABLE_LATENCY_7M": "about 7 m",
	"CABLE_LATENCY_7M_PLUS": "more than about 7 m",
	"PCABLE_VCONN_NOT_REQ":  "VCONN not required", "PCABLE_VCONN_REQ": "VCONN required",
	"ACABLE_ONE_END": "one end active", "ACABLE_BOTH_END": "both ends active",
	"CABLE_MAX_VBUS_20V": "20 V", "CABLE_MAX_VBUS_30V": "30 V once", "CABLE_MAX_VBUS_40V": "40 V once", "CABLE_MAX_VBUS_50V": "50 V",
	"ACABLE_SBU_SUPP": "yes", "ACABLE_SBU_NOT_SUPP": "no", "ACABLE_SBU_PASSIVE": "passive", "ACABLE_SBU_ACTIVE": "active",
	"CABLE_CURR_DEF": "default current", "CABLE_CURR_3A": "3 A", "CABLE_CURR_5A": "5 A",
	"CABLE_USBSS_U2_ONLY": "USB 2.0 only", "CABLE_USBSS_U31_GEN1": "USB 3.1 Gen 1", "CABLE_USBSS_U31_GEN2": "USB 3.1 Gen 1 and Gen 2",
	"CABLE_USB2_ONLY": "USB 2.0 only", "CABLE_USB32_GEN1": "USB 3.2 Gen 1", "CABLE_USB32_4_GEN2": "USB 3.2 Gen 2, USB4 Gen 2",
	"CABLE_USB4_GEN3":        "USB4 Gen 3",
	"ACAB2_U3_CLD_10MW_PLUS": "more than 10 mW", "ACAB2_U3_CLD_10MW": "5 to 10 mW", "ACAB2_U3_CLD_5MW": "1 to 5 mW",
	"ACAB2_U3_CLD_1MW": "0.5 to 1 mW", "ACAB2_U3_CLD_500UW": "0.2 to 0.5 mW", "ACAB2_U3_CLD_200UW": "50 to 200 µW",
	"ACAB2_U3_CLD_50UW": "less than 50 µW",
	"ACAB2_U3U0_DIRECT": "direct", "ACAB2_U3U0_U3S": "U3S", "ACAB2_PHY_COPPER": "copper", "ACAB2_PHY_OPTICAL": "optical",
	"ACAB2_REDRIVER": "re-driver", "ACAB2_RETIMER": "re-timer", "ACAB2_USB4_SUPP": "yes", "ACAB2_USB4_NOT_SUPP": "no",
	"ACAB2_USB2_SUPP": "yes", "ACAB2_USB2_NOT_SUPP": "no", "ACAB2_USB32_SUPP": "yes", "ACAB2_USB32_NOT_SUPP": "no",
	"ACAB2_LANES_ONE": "one", "ACAB2_LANES_TWO": "two", "ACAB2_OPT_ISO_NO": "no", "ACAB2_OPT_ISO_YES": "yes",
	"ACAB2_GEN_1": "Gen 1", "ACAB2_GEN_2_PLUS": "Gen 2 or higher",
	"VPD_VDO_VER1_0": "1.0", "VPD_MAX_VBUS_20V": "20 V", "VPD_MAX_VBUS_30V": "30 V once", "VPD_MAX_VBUS_40V": "40 V once",
	"VPD_MAX_VBUS_50V": "50 V once", "VPDCT_CURR_3A": "3 A", "VPDCT_CURR_5A": "5 A", "VPDCT_NOT_SUPP": "no", "VPDCT_SUPP": "yes",
	"TBT_CABLE_USB3_GEN1": "USB 3.1 Gen 1", "TBT_CABLE_USB3_PASSIVE": "10 Gbps a lane", "TBT_CABLE_10_AND_20GBPS": "10 and 20 Gbps a lane",
	"TBT_GEN3_NON_ROUNDED": "third, non-rounded only", "TBT_GEN3_GEN4_ROUNDED_NON_ROUNDED": "third and fourth, rounded and non-rounded",
	"TBT_MODE":             "Thunderbolt",
	"BIT(DP_PIN_ASSIGN_A)": "A", "BIT(DP_PIN_ASSIGN_C)": "C", "BIT(DP_PIN_ASSIGN_F)": "F",
	"DP_CAP_CABLE_TYPE_PASSIVE": "passive", "DP_CAP_CABLE_TYPE_RE_TIMER": "re-timer", "DP_CAP_CABLE_TYPE_RE_DRIVER": "re-driver",
	"DP_CAP_CABLE_TYPE_OPTICAL": "optical", "DP_CAP_SIGNALLING_HBR3": "HBR3", "DP_CAP_SIGNALLING_UHBR10": "UHBR10",
}

func TestKernelMacros(t *testing.T) {
	for _, dir := range kernelHeaders(t) {
		t.Run(filepath.Base(filepath.Dir(dir)), func(t *testing.T) {
			program := filepath.Join(t.TempDir(), "compose")
			compileWithKernel(t, dir, "testdata/kernel/compose.c", program, "-O1")
			out, err := exec.Command(program).Output()
			if err != nil {
				t.Fatal(err)
			}
			compareWithKernel(t, out)
		})
	}
}

// kernelHeaders gives the include directories, oldest kernel first. Without
// headers or gcc it skips the test.
func kernelHeaders(t testing.TB) []string {
	t.Helper()
	missing := t.Skipf
	if os.Getenv("GAINSAY_REQUIRE_KERNEL") == "1" {
		missing = t.Fatalf
	}
	var dirs []string
	if list := os.Getenv("GAINSAY_KERNEL_HEADERS"); list != "" {
		dirs = filepath.SplitList(list)
	} else if found, err := filepath.Glob("/usr/src/linux-headers-*-common/include"); err == nil {
		dirs = found
	}
	if len(dirs) == 0 {
		missing("no kernel headers: install a package linux-headers-*-common, or name its include directory in GAINSAY_KERNEL_HEADERS")
	}
	if _, err := exec.LookPath("gcc"); err != nil {
		missing("no gcc to compile testdata/kernel with: %v", err)
	}
	return dirs
}

// compileWithKernel compiles a program with the kernel's headers.
func compileWithKernel(t testing.TB, dir, source, program, optimize string) {
	t.Helper()
	if _, err := os.Stat(filepath.Join(dir, "linux/usb/pd_vdo.h")); err != nil {
		t.Fatalf("no kernel headers below %s: %v", dir, err)
	}
	build := exec.Command("gcc", "-std=gnu11", optimize, "-Wall", "-Itestdata/kernel/include", "-I"+dir, "-o", program, source)
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v: %v\n%s", build, err, out)
	}
}

// A fieldRef is a field of a layout, as the composer names it.
type fieldRef struct {
	layout *Layout
	name   string
}

func compareWithKernel(t *testing.T, out []byte) {
	var (
		composing bool
		fields    []fieldRef // of the words that follow
		words     = map[string]int{}
		compared  = map[string]bool{}
		constants = map[string]bool{}
		failures  = 0
	)
	fail := func(format string, args ...any) {
		t.Helper()
		t.Errorf(format, args...)
		if failures++; failures > 20 {
			t.Fatal("too many differences; the rest is not shown")
		}
	}
	number := func(s string, base int) uint32 {
		t.Helper()
		n, err := strconv.ParseUint(s, base, 32)
		if err != nil {
			t.Fatalf("the composer printed %q: %v", s, err)
		}
		return uint32(n)
	}
	refer := func(layout string, names []string) []fieldRef {
		t.Helper()
		l := LayoutNamed(layout)
		if l == nil {
			t.Fatalf("the composer names layout %s, which is not there", layout)
		}
		var refs []fieldRef
		for _, name := range names {
			fieldOf(t, l, 0, name)
			refs = append(refs, fieldRef{l, name})
			compared[layout+" "+name] = true
		}
		return refs
	}
	lines := bufio.NewScanner(bytes.NewReader(out))
	for lines.Scan() {
		part := strings.Fields(lines.Text())
		switch part[0] {
		case "compose", "extract":
			composing, fields = part[0] == "compose", refer(part[1], part[2:])
			continue
		case "constant":
			f := refer(part[2], part[3:4])[0]
			checkConstant(t, part[1], f, number(part[4], 10))
			constants[part[1]] = true
			continue
		}
		word := number(part[0], 16)
		if len(fields) == 0 || len(part) != 1+len(fields) {
			t.Fatalf("the composer printed %q for %d fields", lines.Text(), len(fields))
		}
		l := fields[0].layout
		want := map[string]uint32{}
		var set []Value
		for i, f := range fields {
			want[f.name] = number(part[1+i], 10)
			set = append(set, Value{Field: f.name, Raw: want[f.name]})
		}
		for v := range l.Read(word) {
			n, named := want[v.Name]
			if (named || composing) && v.Raw != n {
				fail("%s %08X: %s is %d, the kernel has %d", l.Name(), word, v.Name, v.Raw, n)
			}
		}
		if composing {
			words[l.Name()]++
			if got, err := l.Compose(0, set...); err != nil || got != word {
				fail("%s %v: composed %08X, %v; the kernel composes %08X", l.Name(), set, got, err, word)
			}
		}
	}
	if err := lines.Err(); err != nil {
		t.Fatal(err)
	}

	// Nothing may have been left out unnoticed.
	total := 0
	for _, l := range Layouts() {
		switch l.Name() {
		case "unstructured-header", "displayport-cable", "data":
			// The kernel composes none of these.
		default:
			if words[l.Name()] < 2000 {
				t.Errorf("%s: %d words compared", l.Name(), words[l.Name()])
			}
		}
		total += words[l.Name()]
		for _, f := range l.Fields() {
			if ref := l.Name() + " " + f.Name; !f.Reserved() && !compared[ref] && !withoutMacro[ref] {
				t.Errorf("%s: compared with no macro", ref)
			}
		}
	}
	for name := range constantMeanings {
		if !constants[name] && !strings.HasPrefix(name, "DP_CAP_") { // those are in 6.12
			t.Errorf("constant %s was not compared", name)
		}
	}
	t.Logf("%d composed words, %d fields, %d constants agree with the kernel's macros", total, len(compared), len(constants))
}

// checkConstant compares the meaning of a constant's value.
func checkConstant(t *testing.T, name string, f fieldRef, raw uint32) {
	t.Helper()
	want, ok := constantMeanings[name]
	if !ok {
		t.Errorf("constant %s: nothing to compare with", name)
		return
	}
	word, err := f.layout.Compose(switchOn(f.layout.Name()), Value{Field: f.name, Raw: raw})
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	standing := Defined
	if strings.HasSuffix(want, " once") {
		standing = Deprecated
	}
	v := fieldOf(t, f.layout, word, f.name)
	if !strings.Contains(v.Meaning, want) || v.Standing != standing {
		t.Errorf("%s = %d in %s %s: %q, %v; want %q", name, raw, f.layout.Name(), f.name, v.Meaning, v.Standing, want)
	}
}
