package typec_test

import (
	"errors"
	"os"
	"path/filepath"
	"testing"

	"github.com/google/go-cmp/cmp"

	"example.com/gainsay/vdo/typec"
)

// A real directory tree as sysfs has it: the devices lie nested below
// devices/, the class holds links to them.
func systemTree(t *testing.T) (class, devices string) {
	t.Helper()
	root := t.TempDir()
	class, devices = filepath.Join(root, "class", "typec"), filepath.Join(root, "devices", "typec")
	for name, text := range active.nested() {
		name = filepath.Join(devices, filepath.FromSlash(name))
		if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(name, []byte(text+"\n"), 0o444); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.MkdirAll(class, 0o755); err != nil {
		t.Fatal(err)
	}
	// Links as the kernel makes them, among them those that lead back.
	port := filepath.Join("..", "..", "devices", "typec", "port0")
	for name, to := range map[string]string{
		"port0":                          port,
		"port0-partner":                  filepath.Join(port, "port0-partner"),
		"port0-cable":                    filepath.Join(port, "port0-cable"),
		"port0-plug0":                    filepath.Join(port, "port0-cable", "port0-plug0"),
		"port0-plug1":                    filepath.Join(port, "port0-cable", "port0-plug1"),
		filepath.Join(port, "subsystem"): class,
		filepath.Join(port, "port0-cable", "port0-plug0", "device"):    "..",
		filepath.Join(port, "port0-cable", "port0-plug0", "subsystem"): class,
	} {
		if err := os.Symlink(to, filepath.Join(class, name)); err != nil {
			t.Skipf("no links here: %v", err)
		}
	}
	return class, devices
}

func TestLinks(t *testing.T) {
	class, devices := systemTree(t)
	want, err := typec.Read(active.fs())
	if err != nil {
		t.Fatal(err)
	}
	for _, dir := range []string{class, devices} {
		got, err := typec.Read(os.DirFS(dir))
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(outcomes(want), outcomes(got)); diff != "" {
			t.Errorf("%s (-want +got)\n%s", filepath.Base(filepath.Dir(dir)), diff)
		}
	}
}

// The class copied without the devices its links lead to.
func TestDanglingLinks(t *testing.T) {
	class, devices := systemTree(t)
	if err := os.RemoveAll(devices); err != nil {
		t.Fatal(err)
	}
	ports, err := typec.Read(os.DirFS(class))
	if err != nil {
		t.Fatal(err)
	}
	want := outcome{Problems: []string{
		"port0 | port0: leads nowhere",
		"port0 | port0-partner: leads nowhere",
		"port0 | port0-cable: leads nowhere",
	}}
	if diff := cmp.Diff(want, outcomes(ports)); diff != "" {
		t.Errorf("(-want +got)\n%s", diff)
	}
}

// This machine either has no class, which is said plainly, or its ports can be
// listed.
func TestThisMachine(t *testing.T) {
	const class = "/sys/class/typec"
	ports, err := typec.Read(os.DirFS(class))
	if _, stat := os.Stat(class); stat != nil {
		if !errors.Is(err, typec.ErrNoClass) || len(ports) != 0 {
			t.Fatalf("without the directory: %v, %v; want ErrNoClass", ports, err)
		}
		t.Log(err)
		return
	}
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range ports {
		t.Log(p.Name, p.Problems)
	}
}
