package label

import (
	"bufio"
	"os"
	"strings"
	"testing"
)

// read reads a claim by its key and gives its normal form.
func read(key, text string) (string, *Error) {
	yesNo := func(_ bool, normal string, err *Error) (string, *Error) { return normal, err }
	amount := func(_ float64, normal string, err *Error) (string, *Error) { return normal, err }
	switch key {
	case "power":
		return amount(Power(text))
	case "current":
		return amount(Current(text))
	case "voltage":
		return amount(Voltage(text))
	case "length":
		return amount(Length(text))
	case "conductors":
		return amount(Conductors(text))
	case "data":
		_, normal, err := DataOf(text)
		return normal, err
	case "plugs":
		return Plugs(text)
	case "modes":
		names, err := Modes(text)
		return strings.Join(names, ", "), err
	case "video":
		_, normal, err := VideoOf(text)
		return normal, err
	case "active":
		return yesNo(Active(text))
	case "marked":
		return yesNo(Marked(text))
	case "certified":
		return yesNo(Certified(text))
	case "certificate":
		return Certificate(text)
	}
	panic(key)
}

type phrase struct {
	key, text, normal string
	advice            string // part of it, where the phrase is refused
}

func phrases(t *testing.T) (out []phrase) {
	t.Helper()
	f, err := os.Open("testdata/phrases.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for s := bufio.NewScanner(f); s.Scan(); {
		parts := strings.Split(s.Text(), " | ")
		if strings.HasPrefix(s.Text(), "#") || len(parts) != 3 {
			continue
		}
		p := phrase{key: parts[0], text: parts[1], normal: parts[2]}
		if rest, refused := strings.CutPrefix(p.normal, "!"); refused {
			p.normal, p.advice = "!", strings.TrimSpace(rest)
		}
		out = append(out, p)
	}
	return out
}

// TestPhrases holds what sellers write against what anybody in the trade understands by
// it: testdata/phrases.txt, written before the grammar (common practice).
func TestPhrases(t *testing.T) {
	ps := phrases(t)
	if len(ps) < 450 {
		t.Errorf("only %d phrases", len(ps))
	}
	for _, p := range ps {
		got, err := read(p.key, p.text)
		switch {
		case p.normal == "!" && err == nil:
			t.Errorf("%s: %q is read as %q, and should be refused", p.key, p.text, got)
		case p.normal == "!" && !strings.Contains(err.Error(), p.advice):
			t.Errorf("%s: %q: the advice lacks %q: %v", p.key, p.text, p.advice, err)
		case p.normal != "!" && err != nil:
			t.Errorf("%s: %q is refused: %v", p.key, p.text, err)
		case p.normal != "!" && got != p.normal:
			t.Errorf("%s: %q is read as %q, want %q", p.key, p.text, got, p.normal)
		}
	}
}

// TestNormalFormsLoadAgain: a normal form is read as itself.
func TestNormalFormsLoadAgain(t *testing.T) {
	for _, p := range phrases(t) {
		if p.normal == "!" {
			continue
		}
		if got, err := read(p.key, p.normal); err != nil || got != p.normal {
			t.Errorf("%s: %q is read as %q: %v", p.key, p.normal, got, err)
		}
	}
}

// quoted are the forms that an advice offers.
func quotedForms(s string) (out []string) {
	parts := strings.Split(s, `"`)
	for i := 1; i < len(parts); i += 2 {
		out = append(out, parts[i])
	}
	return out
}

// TestAdviceIsAccepted: each refusal offers a form, and what it offers is understood.
func TestAdviceIsAccepted(t *testing.T) {
	for _, p := range phrases(t) {
		if p.normal != "!" {
			continue
		}
		_, err := read(p.key, p.text)
		if err == nil {
			continue // TestPhrases says so
		}
		forms := quotedForms(err.Want)
		if len(forms) == 0 && !strings.ContainsAny(err.Want, ",") && !strings.Contains(err.Want, "write") {
			t.Errorf("%s: %q: no form is offered: %v", p.key, p.text, err)
		}
		for _, form := range forms {
			if _, again := read(p.key, form); again != nil {
				t.Errorf("%s: %q: the form %q that is offered is refused: %v", p.key, p.text, form, again)
			}
		}
	}
}
