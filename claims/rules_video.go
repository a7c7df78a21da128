package claims

import (
	"fmt"

	"example.com/gainsay/vdo"
)

// Rules about the picture claimed.
var videoRules = []*Rule{
	claimedVideoAboveMarker, claimedVideoOnUnmarked, claimedVideoOverLegacy, claimedVideoOverUSB2, claimedVideoOnlyCompressed,
}

// videoValues are the numbers of a picture.
func videoValues(c *Case) Values {
	v := c.Claims.Video.Value
	return Values{
		"claimed": c.Claims.Video.Text,
		"picture": fmt.Sprintf("%d × %d at %g Hz", v.Width, v.Height, v.Hz),
		"clock":   fmt.Sprintf("%.2f MHz", pixelClock(v)),
		"plain":   gbps(pictureGbps(v, pixelBits)),
	}
}

var claimedVideoAboveMarker = &Rule{
	ID:       "claimed-video-above-marker",
	Sources:  []Citation{dpCable, vesaCVT, vesaDP},
	Title:    "a picture is claimed that does not fit what the marker lets a host send",
	Kind:     Contradiction,
	Property: Video,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerVideo, MarkerCable},
	Settles:  true,
	Under:    []string{"claimed-displayport-not-carried", "claimed-data-above-marker"},
	Says: "The seller claims {claimed}: {picture} has a pixel clock of {clock}, {plain} at 24 bits a pixel and {least} at the strongest compression; " +
		"by the marker a host sends {capacity} ({over}).",
	Why:  "The host will not offer the picture over this cable.",
	Next: "Use another cable for this picture.",
	Check: func(c *Case) Result {
		least := pictureGbps(c.Claims.Video.Value, leastPixelBits)
		capacity, over, exact := pictureCapacity(c.Near.Summary)
		switch {
		case least <= capacity:
			return pass()
		case !exact:
			return undecided("the answers on record do not decide about DisplayPort", MarkerSVIDs, MarkerDisplayPort)
		}
		v := videoValues(c)
		v["least"], v["capacity"], v["over"] = gbps(least), gbps(capacity)+" at most", over
		if capacity == 0 {
			v["capacity"] = "nothing"
		}
		return found(v)
	},
}

var claimedVideoOnlyCompressed = &Rule{
	ID:       "claimed-video-only-compressed",
	Sources:  []Citation{vesaCVT, dpCable},
	Title:    "the picture claimed fits only when it is compressed",
	Kind:     Doubt,
	Property: Video,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerVideo, MarkerCable},
	Settles:  true,
	Under:    []string{"claimed-data-above-marker"},
	Says:     "The seller claims {claimed}: {picture} has a pixel clock of {clock} and {plain} at 24 bits a pixel; by the marker a host sends {capacity} at most ({over}), so it fits only compressed.",
	Why:      "Both ends must support stream compression or coarser colour; with others the picture is smaller or slower than claimed.",
	Next:     "Find out whether source and screen support DisplayPort stream compression.",
	Check: func(c *Case) Result {
		p := c.Claims.Video.Value
		capacity, over, exact := pictureCapacity(c.Near.Summary)
		switch {
		case pictureGbps(p, pixelBits) <= capacity:
			return pass()
		case !exact:
			return undecided("the answers on record do not decide about DisplayPort", MarkerSVIDs, MarkerDisplayPort)
		case pictureGbps(p, leastPixelBits) > capacity:
			return notApplicable("it does not fit compressed either; see claimed-video-above-marker")
		}
		v := videoValues(c)
		v["capacity"], v["over"] = gbps(capacity), over
		return found(v)
	},
}

var claimedVideoOnUnmarked = &Rule{
	ID:       "claimed-video-on-unmarked-cable",
	Sources:  []Citation{typeCCables},
	Title:    "a picture is claimed for a cable without a marker",
	Kind:     Contradiction,
	Property: Video,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerVideo, MarkerAsked},
	Under:    before(silentMarker, "claimed-video-on-unmarked-cable"),
	Says:     "The seller claims {claimed}; the marker was asked and did not answer. A picture runs over the fast pairs, and a Type-C to Type-C cable that has them must be marked.",
	Why:      "A host takes the cable for USB 2.0 and sends no picture.",
	Next:     "Ask once more with VCONN applied and the plug the other way up.",
	Check: func(c *Case) Result {
		if p, ok := c.Plugs(); ok && p.Legacy() {
			return notApplicable("a legacy cable has no marker that could show it")
		}
		return foundIf(c.Marker() == MarkerAbsent, func() Values { return Values{"claimed": c.Claims.Video.Text} })
	},
}

var claimedVideoOverLegacy = &Rule{
	ID:       "claimed-video-over-legacy-cable",
	Sources:  []Citation{typeCLegacy},
	Title:    "a picture is claimed over a cable with an older connector",
	Kind:     Breach,
	Property: Video,
	Between:  []Witness{Seller},
	Needs:    []Evidence{SellerVideo},
	Under:    before(olderConnector, "claimed-video-over-legacy-cable"),
	Says:     "The seller claims {claimed}; a {plugs} cable has no CC wire from end to end, so DisplayPort cannot be entered over it.",
	Why:      "The port never sends a picture over such a cable. Adapters that compress it for USB are another thing.",
	Next:     "Use a Type-C to Type-C cable.",
	Check: func(c *Case) Result {
		p, ok := c.Plugs()
		if !ok {
			return undecided("no plugs are on record", SellerPlugs)
		}
		return foundIf(p.Legacy(), func() Values { return Values{"claimed": c.Claims.Video.Text, "plugs": string(p)} })
	},
}

var claimedVideoOverUSB2 = &Rule{
	ID:       "claimed-video-over-usb-2",
	Sources:  []Citation{typeCCables, dpCable},
	Title:    "a picture is claimed for a cable sold as USB 2.0",
	Kind:     Breach,
	Property: Video,
	Between:  []Witness{Seller},
	Needs:    []Evidence{SellerVideo, SellerData},
	Under:    []string{"claimed-modes-over-usb-2"},
	Says:     "The seller claims {claimed} and {data}; {picture} needs {plain} at 24 bits a pixel, and a USB 2.0 cable has no fast pairs for it.",
	Why:      "The two claims cannot hold together.",
	Next:     "Ask the seller which of the two is meant.",
	Check: func(c *Case) Result {
		if why := fastPairsBeside(c); why != "" {
			return notApplicable(why)
		}
		v := videoValues(c)
		delete(v, "clock")
		v["data"] = c.Claims.Data.Text
		return foundIf(c.Claims.Data.Value.Gbps <= vdo.USB2.Gbps(), func() Values { return v })
	},
}
