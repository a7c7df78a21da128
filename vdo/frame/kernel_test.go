package frame_test

import (
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	. "example.com/gainsay/vdo/frame"
)

// The Linux kernel's include/linux/usb/pd.h numbers the message types. Debian has
// it in linux-headers-*-common; GAINSAY_KERNEL_HEADERS lists include directories.
// Without it the test is skipped, unless GAINSAY_REQUIRE_KERNEL is 1.
func TestKernelTypes(t *testing.T) {
	headers, err := filepath.Glob("/usr/src/linux-headers-*-common/include/linux/usb/pd.h")
	if err != nil {
		t.Fatal(err)
	}
	for _, dir := range filepath.SplitList(os.Getenv("GAINSAY_KERNEL_HEADERS")) {
		headers = append(headers, filepath.Join(dir, "linux/usb/pd.h"))
	}
	if len(headers) == 0 {
		if os.Getenv("GAINSAY_REQUIRE_KERNEL") == "1" {
			t.Fatal("no kernel headers")
		}
		t.Skip("no kernel headers")
	}
	kinds := map[string]Kind{"CTRL": Control, "DATA": Data, "EXT": Extended}
	line := regexp.MustCompile(`\bPD_(CTRL|DATA|EXT)_(\w+) = (\d+),`)
	for _, h := range headers {
		text, err := os.ReadFile(h)
		if err != nil {
			t.Fatal(err)
		}
		found := line.FindAllStringSubmatch(string(text), -1)
		if len(found) < 40 {
			t.Errorf("%s: only %d types found", h, len(found))
		}
		for _, m := range found {
			code, err := strconv.Atoi(m[3])
			if err != nil {
				t.Fatal(err)
			}
			// The kernel shortens the words of a name: BATT_CAP.
			words := strings.ReplaceAll(m[2], "FW", "FIRMWARE")
			pattern := regexp.MustCompile("^" + strings.ReplaceAll(words, "_", "[A-Z]*") + "[A-Z]*$")
			name := strings.ToUpper(strings.ReplaceAll(NewType(kinds[m[1]], code).String(), "_", ""))
			if !pattern.MatchString(name) {
				t.Errorf("%s: %s is %s", h, m[0], name)
			}
		}
	}
}
