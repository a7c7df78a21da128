package rules

import (
	"fmt"
	"strings"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/internal/source"
	"example.com/gainsay/vdo"
)

// Rules about how the fields of an active cable's words go together, taken alone.
var activeRules = []*claims.Rule{
	hubHopsWithoutUSB2, oneLaneAboveGen2, generationBitDisagrees, usb4BelowGen2, asymmetricBelowGen4,
	isolatedNotOptical, isolatedWithVBUS, vbusNotThrough, shutdownTooLow, temperatureImplausible, sbuMissing,
	farPlugOneEndActive, farPlugNotDeclared, usb2Absent, gen3WithoutUSB, thunderboltAgainstSecondWord,
}

var usb2Absent = activeRule(claims.Rule{
	ID: "usb-2-absent-though-not-isolated", Sources: []claims.Citation{source.TypeCActive, source.PDActive2}, Kind: claims.Doubt, Property: claims.Data,
	Title: "USB 2.0 is absent from an active cable that does not isolate its ends",
	Says:  "The second cable word {word} declares no USB 2.0 in bit 5 and no isolation in bit 2; only an isolated cable may leave USB 2.0 out.",
	Why:   "A host that falls back to USB 2.0 gets no link.", Next: programmingNext,
}, vdo.ActiveFormCurrent, func(_ *claims.Case, _ vdo.ActiveCable1, two vdo.ActiveCable2) claims.Result {
	return foundIf(!two.USB2() && !two.Isolated(), func() claims.Values { return claims.Values{"word": say.Word(uint32(two))} })
})

var gen3WithoutUSB = activeRule(claims.Rule{
	ID: "gen-3-declared-without-usb", Sources: []claims.Citation{source.OwnReasoning, source.PDActive1, source.PDActive2}, Kind: claims.Doubt, Property: claims.Data,
	Title: "Gen 3 is declared by a cable that carries neither USB4 nor USB 3.2",
	Says:  "The first cable word declares {speed}; the second, {word}, declares neither USB4 (bit 8) nor USB 3.2 (bit 4).",
	Why:   "No host can use the speed declared.", Next: programmingNext,
}, vdo.ActiveFormCurrent, func(c *claims.Case, _ vdo.ActiveCable1, two vdo.ActiveCable2) claims.Result {
	speed, ok := c.Near.Summary.Speed.Get()
	if !ok || speed < vdo.USB4Gen3 {
		return notApplicable("no speed above Gen 2 is declared")
	}
	return foundIf(!two.USB4() && !two.USB32(), func() claims.Values { return claims.Values{"speed": speed.String(), "word": say.Word(uint32(two))} })
})

var thunderboltAgainstSecondWord = activeRule(claims.Rule{
	ID: "thunderbolt-word-differs-from-second-word", Sources: []claims.Citation{source.OwnReasoning, source.TypeCTBT, source.PDActive2}, Kind: claims.Doubt, Property: claims.Activity,
	Title: "the Thunderbolt mode word and the second cable word describe different electronics",
	Says:  "The Thunderbolt mode word {tbt} and the second cable word {word} disagree: {differences}.",
	Why:   "One of the words belongs to another product.", Next: programmingNext,
}, vdo.ActiveFormCurrent, func(c *claims.Case, _ vdo.ActiveCable1, two vdo.ActiveCable2) claims.Result {
	m, ok := c.Near.Summary.Thunderbolt.Get()
	if !ok {
		return notApplicable("no Thunderbolt mode word is recorded")
	}
	var notes []string
	if m.Optical() != two.Optical() {
		notes = append(notes, fmt.Sprintf("optical %s and %s", say.YesOrNo(m.Optical()), say.YesOrNo(two.Optical())))
	}
	if m.Retimer() != two.Retimer() {
		notes = append(notes, fmt.Sprintf("re-timer %s and %s", say.YesOrNo(m.Retimer()), say.YesOrNo(two.Retimer())))
	}
	return foundIf(len(notes) > 0, func() claims.Values {
		return claims.Values{"tbt": say.Word(uint32(m)), "word": say.Word(uint32(two)), "differences": strings.Join(notes, "; ")}
	})
})

// activeRule asks about an active cable whose two words have the given form or a
// later one.
func activeRule(r claims.Rule, since vdo.ActiveForm, check func(c *claims.Case, one vdo.ActiveCable1, two vdo.ActiveCable2) claims.Result) *claims.Rule {
	r.Needs = []claims.Evidence{claims.MarkerCable}
	r.Check = func(c *claims.Case) claims.Result {
		one, ok := c.Near.Identity.Active1()
		if !ok {
			return notApplicable("the marker is not an active cable of PD 3.x")
		}
		two, ok := c.Near.Identity.Active2()
		switch {
		case !ok:
			return notApplicable("the answer has no second cable word")
		case c.Near.Identity.ActiveForm() < since:
			return notApplicable("the words have the form of PD R3.0 V1.2, where these bits are reserved")
		}
		return check(c, one, two)
	}
	return markerRule(r)
}

var hubHopsWithoutUSB2 = activeRule(claims.Rule{
	ID: "hub-hops-without-usb-2", Sources: []claims.Citation{source.PDActive2}, Kind: claims.Breach, Property: claims.Data,
	Title: "USB 2.0 hub hops are counted in a cable that carries no USB 2.0",
	Says:  "The second cable word {word} counts {hops} USB 2.0 hub hops in bits 7..6 and declares no USB 2.0 in bit 5. Without USB 2.0 the count shall be 0.",
	Why:   programmingWhy, Next: programmingNext,
}, vdo.ActiveFormV12, func(_ *claims.Case, _ vdo.ActiveCable1, two vdo.ActiveCable2) claims.Result {
	return foundIf(!two.USB2() && two.HubHops() != 0, func() claims.Values {
		return claims.Values{"word": say.Word(uint32(two)), "hops": fmt.Sprint(two.HubHops())}
	})
})

var oneLaneAboveGen2 = activeRule(claims.Rule{
	ID: "one-lane-above-gen-2", Sources: []claims.Citation{source.OwnReasoning, source.PDActive2}, Kind: claims.Doubt, Property: claims.Data,
	Title: "a speed above Gen 2 is declared over one lane",
	Says:  "The marker declares {speed}, which uses two lanes; the second cable word {word} declares one lane in bit 3.",
	Why:   "Hosts may use one lane, which halves the rate, or none.", Next: programmingNext,
}, vdo.ActiveFormCurrent, func(c *claims.Case, _ vdo.ActiveCable1, two vdo.ActiveCable2) claims.Result {
	speed, ok := c.Near.Summary.Speed.Get()
	if !ok || speed < vdo.USB4Gen3 {
		return notApplicable("no speed above Gen 2 is declared")
	}
	return foundIf(two.Lanes() == 1, func() claims.Values { return claims.Values{"speed": speed.String(), "word": say.Word(uint32(two))} })
})

var generationBitDisagrees = activeRule(claims.Rule{
	ID: "generation-bit-differs-from-speed", Sources: []claims.Citation{source.OwnReasoning, source.PDActive1, source.PDActive2}, Kind: claims.Doubt, Property: claims.Data,
	Title: "the two words of an active cable disagree on its USB generation",
	Says:  "The first cable word declares {speed}; the second, {word}, declares {generation} in bit 0.",
	Why:   "Hosts that use one word set a different rate than hosts that use the other.", Next: programmingNext,
}, vdo.ActiveFormCurrent, func(c *claims.Case, _ vdo.ActiveCable1, two vdo.ActiveCable2) claims.Result {
	speed, ok := c.Near.Summary.Speed.Get()
	if !ok || speed == vdo.USB2 {
		return notApplicable("no speed above USB 2.0 is declared")
	}
	generation := map[bool]string{false: "Gen 1", true: "Gen 2 or higher"}[two.Gen2()]
	return foundIf(two.Gen2() != (speed >= vdo.USB32Gen2), func() claims.Values {
		return claims.Values{"speed": speed.String(), "word": say.Word(uint32(two)), "generation": generation}
	})

})

var usb4BelowGen2 = activeRule(claims.Rule{
	ID: "usb4-declared-below-gen-2", Sources: []claims.Citation{source.OwnReasoning, source.PDActive2}, Kind: claims.Doubt, Property: claims.Data,
	Title: "an active cable declares USB4 and a speed that USB4 does not have",
	Says:  "The second cable word {word} declares USB4 in bit 8; the first declares {speed}. USB4 begins at Gen 2.",
	Why:   "Hosts may try USB4 over a cable that was not built for it.", Next: programmingNext,
}, vdo.ActiveFormCurrent, func(c *claims.Case, _ vdo.ActiveCable1, two vdo.ActiveCable2) claims.Result {
	s := c.Near.Summary
	speed, ok := s.Speed.Get()
	switch {
	case !ok:
		return notApplicable("the marker declares no valid speed")
	case !two.USB4() || speed >= vdo.USB32Gen2:
		return pass()
	case s.Thunderbolt.Known():
		return notApplicable("the Thunderbolt mode word states the rate")
	case s.Modal.Or(false) && !s.HasSVID(vdo.SVIDThunderbolt).Is(isFalse):
		return undecided("an active Thunderbolt cable states its rate in its mode word, which is not recorded", claims.MarkerThunderbolt)
	}
	return found(claims.Values{"word": say.Word(uint32(two)), "speed": speed.String()})
})

var asymmetricBelowGen4 = activeRule(claims.Rule{
	ID: "asymmetric-mode-below-gen-4", Sources: []claims.Citation{source.OwnReasoning, source.PDActive2}, Kind: claims.Doubt, Property: claims.Data,
	Title: "USB4 asymmetric mode is declared below Gen 4",
	Says:  "The second cable word {word} declares USB4 asymmetric mode in bit 1; the first declares {speed}. The mode exists only with Gen 4.",
	Why:   "The bit was reserved before late PD R3.1, so the word may follow a different revision than the rest.", Next: programmingNext,
}, vdo.ActiveFormCurrent, func(c *claims.Case, _ vdo.ActiveCable1, two vdo.ActiveCable2) claims.Result {
	speed, ok := c.Near.Summary.Speed.Get()
	if !ok {
		return notApplicable("the marker declares no valid speed")
	}
	return foundIf(two.Asymmetric() && speed < vdo.USB4Gen4, func() claims.Values { return claims.Values{"word": say.Word(uint32(two)), "speed": speed.String()} })
})

var isolatedNotOptical = activeRule(claims.Rule{
	ID: "isolated-but-not-optical", Sources: []claims.Citation{source.OwnReasoning, source.PDActive2}, Kind: claims.Doubt, Property: claims.Activity,
	Title: "optical isolation is declared in a copper cable",
	Says:  "The second cable word {word} declares optical isolation in bit 2 and copper in bit 10.",
	Why:   programmingWhy, Next: programmingNext,
}, vdo.ActiveFormCurrent, func(_ *claims.Case, _ vdo.ActiveCable1, two vdo.ActiveCable2) claims.Result {
	return foundIf(two.Isolated() && !two.Optical(), func() claims.Values { return claims.Values{"word": say.Word(uint32(two))} })
})

var isolatedWithVBUS = activeRule(claims.Rule{
	ID: "isolated-but-vbus-through", Sources: []claims.Citation{source.OwnReasoning, source.PDActive1, source.PDActive2}, Kind: claims.Doubt, Property: claims.Activity,
	Under: []string{"isolated-but-not-optical"},
	Title: "VBUS runs through a cable that declares isolated ends",
	Says:  "The second cable word {second} declares optical isolation in bit 2; the first, {first}, declares in bit 4 that VBUS runs through.",
	Why:   "A cable that carries VBUS and ground is not isolated.", Next: programmingNext,
}, vdo.ActiveFormCurrent, func(_ *claims.Case, one vdo.ActiveCable1, two vdo.ActiveCable2) claims.Result {
	return foundIf(two.Isolated() && one.Through(), func() claims.Values {
		return claims.Values{"first": say.Word(uint32(one)), "second": say.Word(uint32(two))}
	})
})

var vbusNotThrough = markerRule(claims.Rule{
	ID: "vbus-not-through-though-not-isolated", Sources: []claims.Citation{source.OwnReasoning, source.PDCableWord}, Kind: claims.Doubt, Property: claims.Current,
	Under: []string{"bench-vbus-conducts-against-marker"},
	Title: "VBUS does not run through a cable that does not isolate its ends",
	Needs: []claims.Evidence{claims.MarkerCable},
	Says:  "The marker declares that VBUS does not run through the cable, and {isolation}. Every other Type-C cable carries VBUS.",
	Why:   "A source that follows the marker offers no power over the cable.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		s := c.Near.Summary
		through, ok := s.Through.Get()
		if !ok {
			return notApplicable("the cable word has no such field")
		}
		isolation := "nothing declares that the ends are isolated"
		if s.Isolated.Known() {
			isolation = "that the ends are not isolated"
		}
		return foundIf(!through && !s.Isolated.Or(false), func() claims.Values { return claims.Values{"isolation": isolation} })
	},
})

// hottestPlug is the highest temperature inside a plug, in °C, that a maker is
// expected to allow (our reasoning: materials and the limit of touch on the
// skin of the plug).
const hottestPlug = 110

var shutdownTooLow = activeRule(claims.Rule{
	ID: "shutdown-not-above-operating-temperature", Sources: []claims.Citation{source.OwnReasoning, source.PDActive2}, Kind: claims.Doubt,
	Under: []string{"temperature-not-plausible"},
	Title: "the shutdown temperature is not above the operating temperature",
	Says:  "The second cable word {word} states operation up to {most} and shutdown at {shutdown}.",
	Why:   programmingWhy, Next: programmingNext,
}, vdo.ActiveFormV12, func(_ *claims.Case, _ vdo.ActiveCable1, two vdo.ActiveCable2) claims.Result {
	if two.MaxTemperature() == 0 {
		return notApplicable("no operating temperature is stated")
	}
	return foundIf(two.Shutdown() <= two.MaxTemperature(), func() claims.Values { return temperatures(two) })
})

func temperatures(two vdo.ActiveCable2) claims.Values {
	return claims.Values{"word": say.Word(uint32(two)), "most": fmt.Sprintf("%d °C", two.MaxTemperature()),
		"shutdown": fmt.Sprintf("%d °C", two.Shutdown())}
}

var temperatureImplausible = activeRule(claims.Rule{
	ID: "temperature-not-plausible", Sources: []claims.Citation{source.OwnReasoning, source.PDActive2}, Kind: claims.Doubt,
	Title: "the temperatures declared are unusual for a plug",
	Says:  "The second cable word {word} states operation up to {most} and shutdown at {shutdown}; usual values inside a plug are above 0 °C and up to about {hottest}.",
	Why:   "The shutdown that should protect the cable may never come.", Next: programmingNext,
}, vdo.ActiveFormV12, func(_ *claims.Case, _ vdo.ActiveCable1, two vdo.ActiveCable2) claims.Result {
	v := temperatures(two)
	v["hottest"] = fmt.Sprintf("%d °C", hottestPlug)
	return foundIf(two.MaxTemperature() == 0 || two.MaxTemperature() > hottestPlug || two.Shutdown() > hottestPlug, func() claims.Values { return v })
})

var sbuMissing = activeRule(claims.Rule{
	ID: "sideband-missing-for-its-modes", Sources: []claims.Citation{source.CommonPractice, source.PDActive1}, Kind: claims.Doubt, Property: claims.Modes,
	Title: "the marker declares no sideband wires, which its modes need",
	Says:  "The cable word {word} declares no sideband wires in bit 8; {mode} needs them.",
	Why:   "Without sideband wires the mode does not work.", Next: programmingNext,
}, vdo.ActiveFormV12, func(c *claims.Case, one vdo.ActiveCable1, _ vdo.ActiveCable2) claims.Result {
	s := c.Near.Summary
	mode := ""
	switch {
	case s.HasSVID(vdo.SVIDThunderbolt).Or(false):
		mode = "Thunderbolt"
	case s.HasSVID(vdo.SVIDDisplayPort).Or(false):
		mode = "DisplayPort"
	case s.USB4.Or(false):
		mode = "USB4"
	default:
		return notApplicable("it declares none of USB4, Thunderbolt and DisplayPort")
	}
	return foundIf(!one.SBU(), func() claims.Values { return claims.Values{"word": say.Word(uint32(one)), "mode": mode} })
})

var farPlugOneEndActive = markerRule(claims.Rule{
	ID: "far-plug-with-one-end-active", Sources: []claims.Citation{source.OwnReasoning, source.PDCableWord}, Kind: claims.Doubt,
	Title: "a second controller is declared in a cable with one active end",
	Needs: []claims.Evidence{claims.MarkerCable},
	Says:  "The cable word {word} declares a SOP″ controller in bit 3, and only one active end in bits 12..11.",
	Why:   "A source may address a controller that does not exist, or miss one that does.", Next: programmingNext,
	Check: func(c *claims.Case) claims.Result {
		r := c.Near.Identity
		if one, ok := r.Active1(); ok {
			return foundIf(one.FarPlug() && one.Termination() == vdo.OneEndActive, func() claims.Values { return claims.Values{"word": say.Word(uint32(one))} })
		}
		if w, ok := r.PD2(); ok && c.Near.Summary.Product.Is(isActive) {
			return foundIf(w.FarPlug() && w.Termination() == vdo.OneEndActive, func() claims.Values { return claims.Values{"word": say.Word(uint32(w))} })
		}
		return notApplicable("the marker is not an active cable")
	},
})

func isActive(p vdo.ProductType) bool { return p == vdo.ActiveType }

var farPlugNotDeclared = markerRule(claims.Rule{
	ID: "far-plug-answers-though-not-declared", Sources: []claims.Citation{source.PDCableWord}, Kind: claims.Breach,
	Title: "the far plug answers, though the near plug declares no controller there",
	Needs: []claims.Evidence{claims.MarkerFar},
	Says:  "A plug answered on SOP″; the {plug} plug declares {product} {far}.",
	Why:   "A passive cable has no SOP″ controller, and an active cable declares one. One plug has the words of another product.",
	Next:  "Read both plugs once more, each from its own end, and report the cable to the seller.",
	Check: func(c *claims.Case) claims.Result {
		if !c.Far.Identified || !c.Near.Identified {
			return notApplicable("nothing answered on SOP″ beside SOP′")
		}
		cables := 0
		for _, a := range []*claims.Answer{&c.Near, &c.Far} {
			p, ok := a.Summary.Product.Get()
			if !ok || !p.Cable() {
				continue
			}
			cables++
			if !a.Summary.FarPlug.Or(false) {
				far := "without a SOP″ controller"
				if p == vdo.PassiveType {
					far = "which has none"
				}
				return found(claims.Values{"plug": a.Name, "product": articled(p), "far": far})
			}
		}
		if cables == 0 {
			return notApplicable("the marker is neither a passive nor an active cable")
		}
		return pass()
	},
})

func articled(p vdo.ProductType) string {
	if p == vdo.ActiveType {
		return "an " + p.String()
	}
	return "a " + p.String()
}
