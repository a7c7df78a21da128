package rules

import (
	"fmt"

	"example.com/gainsay/claims"
	"example.com/gainsay/claims/internal/say"
	"example.com/gainsay/claims/internal/source"
	"example.com/gainsay/claims/internal/video"
)

// Rules about the picture claimed.
var videoRules = []*claims.Rule{
	claimedVideoAboveMarker, claimedVideoOnUnmarked, claimedVideoOverLegacy, claimedVideoOnlyCompressed,
	claimedVideoByTunnelOnly,
}

// videoValues are the numbers of a picture.
func videoValues(c *claims.Case) claims.Values {
	v := c.Claims.Video.Value
	return claims.Values{
		"claimed": c.Claims.Video.Text,
		"picture": fmt.Sprintf("%d × %d at %g Hz", v.Width, v.Height, v.Hz),
		"clock":   fmt.Sprintf("%.2f MHz", video.PixelClock(v)),
		"plain":   gbps(video.Gbps(v, video.PixelBits)),
	}
}

var claimedVideoAboveMarker = &claims.Rule{
	ID:       "claimed-video-above-marker",
	Sources:  []claims.Citation{source.DPCable, source.VESACVT, source.VESADP},
	Title:    "the picture claimed needs more than the marker declares",
	Kind:     claims.Contradiction,
	Property: claims.Video,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerVideo, claims.MarkerCable},
	Settles:  true,
	Under:    []string{"claimed-displayport-not-carried", "claimed-data-above-marker"},
	Says: "The seller claims {claimed}: {picture} has a pixel clock of {clock}, {plain} at 24 bits a pixel and {least} at the strongest compression; " +
		"by the marker a host sends {capacity} ({over}).",
	Why:  "The host does not offer the picture over this cable.",
	Next: "Use another cable for this picture.",
	Check: func(c *claims.Case) claims.Result {
		least := video.Gbps(c.Claims.Video.Value, video.LeastPixelBits)
		best := waysOf(c)
		switch {
		case least <= best.shown.gbps:
			return pass()
		case best.open != "":
			return undecided(best.open, claims.MarkerSVIDs, claims.MarkerDisplayPort)
		}
		v := videoValues(c)
		v["least"], v["capacity"], v["over"] = say.Gbps(least), say.Gbps(best.shown.gbps)+" at most", best.shown.over
		if best.shown.gbps == 0 {
			v["capacity"], v["over"] = "nothing", "neither DisplayPort Alt Mode, nor USB4 or Thunderbolt"
		}
		return found(v)
	},
}

var claimedVideoOnlyCompressed = &claims.Rule{
	ID:       "claimed-video-only-compressed",
	Sources:  []claims.Citation{source.VESACVT, source.DPCable},
	Title:    "the picture claimed fits only when it is compressed",
	Kind:     claims.Doubt,
	Property: claims.Video,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerVideo, claims.MarkerCable},
	Settles:  true,
	Under:    []string{"claimed-data-above-marker"},
	Says:     "The seller claims {claimed}: {picture} has a pixel clock of {clock} and {plain} at 24 bits a pixel; by the marker a host sends {capacity} at most ({over}), so it fits only compressed.",
	Why:      "Both ends must support stream compression or coarser colour. Otherwise the picture is smaller or slower than claimed.",
	Next:     "Find out whether source and screen support DisplayPort stream compression.",
	Check: func(c *claims.Case) claims.Result {
		p := c.Claims.Video.Value
		best := waysOf(c)
		switch {
		case video.Gbps(p, video.PixelBits) <= best.shown.gbps:
			return pass()
		case best.open != "":
			return undecided(best.open, claims.MarkerSVIDs, claims.MarkerDisplayPort)
		case video.Gbps(p, video.LeastPixelBits) > best.shown.gbps:
			return notApplicable("it does not fit compressed either; see claimed-video-above-marker")
		}
		v := videoValues(c)
		v["capacity"], v["over"] = say.Gbps(best.shown.gbps), best.shown.over
		return found(v)
	},
}

var claimedVideoByTunnelOnly = &claims.Rule{
	ID:       "claimed-video-only-inside-a-tunnel",
	Sources:  []claims.Citation{source.DPCable, source.VESACVT},
	Title:    "the picture claimed needs a host with USB4 or Thunderbolt",
	Kind:     claims.Doubt,
	Property: claims.Video,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerVideo, claims.MarkerCable},
	Settles:  true,
	Under:    []string{"claimed-displayport-not-carried"},
	Says:     "The seller claims {claimed}: {picture} needs {plain} at 24 bits a pixel. By the marker a host sends it inside USB4 or Thunderbolt; over DisplayPort Alt Mode it sends {mode}.",
	Why:      "A host without USB4 and Thunderbolt does not show this picture over this cable.",
	Next:     "Tell the user of the cable. Read Discover SVIDs and Discover Modes for 0xFF01 again.",
	Check: func(c *claims.Case) claims.Result {
		p := c.Claims.Video.Value
		best := waysOf(c)
		plain := video.Gbps(p, video.PixelBits)
		switch {
		case best.modeOpen:
			return undecided(best.open, claims.MarkerSVIDs, claims.MarkerDisplayPort)
		case plain > best.shown.gbps:
			return notApplicable("the cable is not shown to carry it in any way")
		}
		return foundIf(plain > best.mode, func() claims.Values {
			v := videoValues(c)
			delete(v, "clock")
			v["mode"] = "no picture"
			if best.mode > 0 {
				v["mode"] = say.Gbps(best.mode) + " at most"
			}
			return v
		})
	},
}

var claimedVideoOnUnmarked = &claims.Rule{
	ID:       "claimed-video-on-unmarked-cable",
	Sources:  []claims.Citation{source.TypeCCables},
	Title:    "a picture is claimed for a cable without a marker",
	Kind:     claims.Contradiction,
	Property: claims.Video,
	Between:  []claims.Witness{claims.Seller, claims.Marker},
	Needs:    []claims.Evidence{claims.SellerVideo, claims.MarkerAsked},
	Under:    before(silentMarker, "claimed-video-on-unmarked-cable"),
	Says:     "The seller claims {claimed}. The marker did not answer. A picture uses the fast pairs, and a Type-C to Type-C cable with fast pairs must have a marker.",
	Why:      "A host uses USB 2.0 and sends no picture.",
	Next:     "Read the marker again with VCONN applied and the plug the other way up.",
	Check: func(c *claims.Case) claims.Result {
		if why := needsNoMarkerEnds(c); why != "" {
			return notApplicable(why)
		}
		return foundIf(c.Marker() == claims.MarkerAbsent, func() claims.Values { return claims.Values{"claimed": c.Claims.Video.Text} })
	},
}

var claimedVideoOverLegacy = &claims.Rule{
	ID:       "claimed-video-over-legacy-cable",
	Sources:  []claims.Citation{source.TypeCLegacy},
	Title:    "a picture is claimed over a cable with an older connector",
	Kind:     claims.Breach,
	Property: claims.Video,
	Between:  []claims.Witness{claims.Seller},
	Needs:    []claims.Evidence{claims.SellerVideo},
	Under:    before(olderConnector, "claimed-video-over-legacy-cable"),
	Says:     "The seller claims {claimed}; a {plugs} cable has no CC wire from end to end, so DisplayPort does not work over it.",
	Why:      "The port does not send a picture over such a cable. Adapters that compress a picture for USB are different.",
	Next:     "Use a Type-C to Type-C cable.",
	Check: func(c *claims.Case) claims.Result {
		p, ok := c.Plugs()
		if !ok {
			return undecided("no plugs are recorded", claims.SellerPlugs)
		}
		return foundIf(p.Legacy(), func() claims.Values { return claims.Values{"claimed": c.Claims.Video.Text, "plugs": string(p)} })
	},
}
