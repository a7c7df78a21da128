package claims

import "fmt"

// Rules about the picture claimed.
var videoRules = []*Rule{
	claimedVideoAboveMarker, claimedVideoOnUnmarked, claimedVideoOverLegacy, claimedVideoOnlyCompressed,
	claimedVideoByTunnelOnly,
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
	Title:    "the picture claimed needs more than the marker declares",
	Kind:     Contradiction,
	Property: Video,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerVideo, MarkerCable},
	Settles:  true,
	Under:    []string{"claimed-displayport-not-carried", "claimed-data-above-marker"},
	Says: "The seller claims {claimed}: {picture} has a pixel clock of {clock}, {plain} at 24 bits a pixel and {least} at the strongest compression; " +
		"by the marker a host sends {capacity} ({over}).",
	Why:  "The host does not offer the picture over this cable.",
	Next: "Use another cable for this picture.",
	Check: func(c *Case) Result {
		least := pictureGbps(c.Claims.Video.Value, leastPixelBits)
		best := c.pictureWays()
		switch {
		case least <= best.shown.gbps:
			return pass()
		case best.open != "":
			return undecided(best.open, MarkerSVIDs, MarkerDisplayPort)
		}
		v := videoValues(c)
		v["least"], v["capacity"], v["over"] = gbps(least), gbps(best.shown.gbps)+" at most", best.shown.over
		if best.shown.gbps == 0 {
			v["capacity"], v["over"] = "nothing", "neither DisplayPort Alt Mode, nor USB4 or Thunderbolt"
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
	Why:      "Both ends must support stream compression or coarser colour. Otherwise the picture is smaller or slower than claimed.",
	Next:     "Find out whether source and screen support DisplayPort stream compression.",
	Check: func(c *Case) Result {
		p := c.Claims.Video.Value
		best := c.pictureWays()
		switch {
		case pictureGbps(p, pixelBits) <= best.shown.gbps:
			return pass()
		case best.open != "":
			return undecided(best.open, MarkerSVIDs, MarkerDisplayPort)
		case pictureGbps(p, leastPixelBits) > best.shown.gbps:
			return notApplicable("it does not fit compressed either; see claimed-video-above-marker")
		}
		v := videoValues(c)
		v["capacity"], v["over"] = gbps(best.shown.gbps), best.shown.over
		return found(v)
	},
}

var claimedVideoByTunnelOnly = &Rule{
	ID:       "claimed-video-only-inside-a-tunnel",
	Sources:  []Citation{dpCable, vesaCVT},
	Title:    "the picture claimed needs a host with USB4 or Thunderbolt",
	Kind:     Doubt,
	Property: Video,
	Between:  []Witness{Seller, Marker},
	Needs:    []Evidence{SellerVideo, MarkerCable},
	Settles:  true,
	Under:    []string{"claimed-displayport-not-carried"},
	Says:     "The seller claims {claimed}: {picture} needs {plain} at 24 bits a pixel. By the marker a host sends it inside USB4 or Thunderbolt; over DisplayPort Alt Mode it sends {mode}.",
	Why:      "A host without USB4 and Thunderbolt does not show this picture over this cable.",
	Next:     "Tell the user of the cable. Read Discover SVIDs and Discover Modes for 0xFF01 again.",
	Check: func(c *Case) Result {
		p := c.Claims.Video.Value
		best := c.pictureWays()
		plain := pictureGbps(p, pixelBits)
		switch {
		case best.modeOpen:
			return undecided(best.open, MarkerSVIDs, MarkerDisplayPort)
		case plain > best.shown.gbps:
			return notApplicable("the cable is not shown to carry it in any way")
		}
		return foundIf(plain > best.mode, func() Values {
			v := videoValues(c)
			delete(v, "clock")
			v["mode"] = "no picture"
			if best.mode > 0 {
				v["mode"] = gbps(best.mode) + " at most"
			}
			return v
		})
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
	Says:     "The seller claims {claimed}. The marker did not answer. A picture uses the fast pairs, and a Type-C to Type-C cable with fast pairs must have a marker.",
	Why:      "A host uses USB 2.0 and sends no picture.",
	Next:     "Read the marker again with VCONN applied and the plug the other way up.",
	Check: func(c *Case) Result {
		if why := needsNoMarkerEnds(c); why != "" {
			return notApplicable(why)
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
	Says:     "The seller claims {claimed}; a {plugs} cable has no CC wire from end to end, so DisplayPort does not work over it.",
	Why:      "The port does not send a picture over such a cable. Adapters that compress a picture for USB are different.",
	Next:     "Use a Type-C to Type-C cable.",
	Check: func(c *Case) Result {
		p, ok := c.Plugs()
		if !ok {
			return undecided("no plugs are recorded", SellerPlugs)
		}
		return foundIf(p.Legacy(), func() Values { return Values{"claimed": c.Claims.Video.Text, "plugs": string(p)} })
	},
}
