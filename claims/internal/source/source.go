// Package source is the table of published places that findings rest on.
package source

// Force is how strongly a source speaks. The deciding source of a rule, its
// first, decides which kinds of finding the rule may have:
//
//   - A contradiction sets two witnesses or more against each other, by a
//     requirement, by a law of nature, or by our own reasoning where the two
//     plainly cannot both be right (sold as one plug, seen as another).
//   - A breach is one witness alone against a requirement or a law of nature.
//   - What a document recommends or only informs about, and what is common
//     practice, never gives more than a doubt or a remark.
type Force uint8

const (
	Shall       Force = iota + 1 // a requirement of the document
	Should                       // a recommendation of the document
	Informative                  // the document informs, it does not require
	Nature                       // a law of nature, with its constants published
	Own                          // our own reasoning from sourced facts
	Practice                     // common practice of the trade, without a source
)

// String names the force as reports show it.
func (f Force) String() string {
	switch f {
	case Shall:
		return "requirement"
	case Should:
		return "recommendation"
	case Informative:
		return "informative"
	case Nature:
		return "law of nature"
	case Own:
		return "our reasoning"
	case Practice:
		return "common practice"
	}
	return "unset"
}

// Citation names the published place a rule rests on. The catalogue
// cites only what stands in the table below, so a clause is corrected in one place.
type Citation struct {
	Document string // as "USB PD"
	Revision string // as "R3.2 V1.2"; empty where the document has none
	Clause   string // clause or table, with its heading
	Force    Force  // what it can carry a finding to
	How      How    // how it is known here
}

// How is how a source is known to the writers of the catalogue.
type How uint8

const (
	Read      How = iota + 1 // the clause was read in the document itself
	Relayed                  // the clause was read in a published relay that names it
	Memory                   // from memory; no text was at hand
	Reasoned                 // worked out here from sourced facts
	Unsourced                // common practice; nobody published it
)

// String names how the source is known, as reports show it.
func (h How) String() string {
	switch h {
	case Read:
		return "read"
	case Relayed:
		return "relayed"
	case Memory:
		return "from memory"
	case Reasoned:
		return "reasoned here"
	case Unsourced:
		return "no source"
	}
	return "unset"
}

// String gives the citation in one line.
func (c Citation) String() string {
	s := c.Document
	if c.Revision != "" {
		s += " " + c.Revision
	}
	if c.Clause != "" {
		s += ", " + c.Clause
	}
	return s
}

const (
	docPD    = "USB PD"
	docTypeC = "USB Type-C"
	docUSBIF = "USB-IF"
	docOwn   = "gainsay"
)

// The table of clauses. Table and section numbers move between revisions; each
// is named for the revision it was read in, by heading first. The USB-IF texts
// were not at hand: their rows are relayed or from memory, and each says which.
var (
	PDVDMHeader   = Citation{docPD, "R3.2 V1.2", "Structured VDM Header table (T 6.33)", Shall, Relayed}
	PDIdentity    = Citation{docPD, "R3.2 V1.2", "Discover Identity (6.4.12.3)", Shall, Relayed}
	PDIDHeader    = Citation{docPD, "R3.2 V1.2", "ID Header VDO table (T 6.34)", Shall, Relayed}
	PDProductType = Citation{docPD, "R3.2", "Product Types, cable plug and VPD (T 6.35)", Shall, Relayed}
	PDVendorID    = Citation{docPD, "R3.2 V1.2", "6.1.5, vendor ID 0xFFFF", Shall, Relayed}
	PDProduct     = Citation{docPD, "R3.2 V1.0", "Product VDO table (T 6-39)", Shall, Relayed}
	PDCertStat    = Citation{docPD, "R3.2 V1.0", "Cert Stat VDO table (T 6-38)", Shall, Relayed}
	PDPassive     = Citation{docPD, "R3.2 V1.2", "Passive Cable VDO table (T 6.42)", Shall, Relayed}
	PDActive1     = Citation{docPD, "R3.2 V1.0", "Active Cable VDO 1 table (T 6-43)", Shall, Relayed}
	PDActive2     = Citation{docPD, "R3.2 V1.0", "Active Cable VDO 2 table (T 6-44)", Shall, Relayed}
	PDVPD         = Citation{docPD, "R3.2 V1.0", "VPD VDO table (T 6-45)", Shall, Relayed}
	PDCableWord   = Citation{docPD, "R3.x", "Passive and Active Cable VDO tables", Shall, Relayed}
	PD2CableWord  = Citation{docPD, "R2.0 V1.3", "Cable VDO tables (T 6-28, T 6-29)", Shall, Relayed}
	PDSVIDs       = Citation{docPD, "R3.2 V1.2", "Discover SVIDs (6.4.12.4)", Shall, Relayed}
	PDModes       = Citation{docPD, "R3.2 V1.2", "Discover Modes (6.4.12.5)", Shall, Relayed}
	PDVersions    = Citation{docPD, "R3.2 V1.2", "8.5.1, structured VDM versions", Shall, Relayed}

	TypeCDrop      = Citation{docTypeC, "R2.0", "§4.4.1, IR drop", Shall, Relayed}
	TypeCContacts  = Citation{docTypeC, "R2.0", "§3.7.8.1, contact resistance", Shall, Relayed}
	TypeCCables    = Citation{docTypeC, "R2.0", "Table 3-1, cable assemblies and marking", Shall, Relayed}
	TypeCLengths   = Citation{docTypeC, "R2.0", "Table 3-1, practical lengths", Informative, Relayed}
	TypeCEPR       = Citation{docTypeC, "R2.1", "§3.11.1 and §3.11.2, EPR cables", Shall, Relayed}
	TypeCNo5A20V   = Citation{docTypeC, "R2.1", "Table 3-1, note on 5 A cables", Informative, Relayed}
	TypeCLegacy    = Citation{docTypeC, "R2.0", "§3.5 and §3.6, legacy cables and adapters", Shall, Relayed}
	TypeCActive    = Citation{docTypeC, "R2.1", "active cables: VCONN power, and VBUS, CC and USB 2.0 wires", Informative, Relayed} // no relay gives the verb
	PDPPS          = Citation{docPD, "R3.x", "Programmable Power Supply, 3.3 V to 21 V at 3 A or 5 A", Informative, Memory}
	TypeCTBT       = Citation{docTypeC, "R2.0", "Table F-11 and the Thunderbolt 3 Compatibility Updates ECN", Shall, Relayed}
	TypeCUSB4      = Citation{docTypeC, "R2.0", "note to the table of USB4-compatible cables", Informative, Relayed}
	TypeCCaptive   = Citation{docTypeC, "R2.0", "captive cables are part of the device; §4.4.1", Shall, Memory}
	USB4V2         = Citation{"USB Promoter Group", "", "USB4 Version 2.0, announced 2022-09: 80 Gbps over passive 40 Gbps cables", Informative, Relayed}
	DPCable        = Citation{"VESA DP Alt Mode", "2.1", "Table 4-4 and Figure 5-3", Shall, Relayed}
	VESACVT        = Citation{"VESA CVT", "1.2", "reduced blanking version 2", Informative, Memory}
	VESADP         = Citation{"VESA DisplayPort", "2.0", "Table 2-157, compressed bit rates", Informative, Memory}
	USBIFPower     = Citation{docUSBIF, "", "certified cable power marks, announced autumn 2021", Informative, Relayed}
	USBIFData      = Citation{docUSBIF, "", "certified cable speed marks, autumn 2022", Informative, Relayed}
	ILACG8         = Citation{"ILAC-G8", "09/2019", "4.2.3, decision with guard bands", Should, Read}
	JCGM106        = Citation{"JCGM 106", "2012", "7.3, probability of conformity", Should, Relayed}
	GUM            = Citation{"JCGM 100 (GUM)", "2008", "5.1, combined standard uncertainty", Should, Relayed}
	IECMillivolt   = Citation{"IEC 60512-2-1", "2002", "test 2a, resistance between access points is subtracted", Shall, Relayed}
	IEC60228       = Citation{"IEC 60228", "", "maximum conductor resistance", Shall, Relayed}
	ASTMB566       = Citation{"ASTM B566", "", "copper-clad aluminium wire, classes 10A and 15A", Informative, Relayed}
	NatureLight    = Citation{"SI", "", "speed of light in vacuum, 299 792 458 m/s exactly", Nature, Memory}
	NatureWatt     = Citation{"SI", "", "watt = volt × ampere", Nature, Memory}
	NatureCopper   = Citation{"IEC 60028", "", "resistivity of annealed copper, 1/58 Ω·mm²/m at 20 °C", Nature, Relayed}
	OwnLogic       = Citation{docOwn, "", "logic: two different statements of one thing cannot both be right", Nature, Reasoned}
	OwnReasoning   = Citation{docOwn, "", "our reasoning from the sourced facts", Own, Reasoned}
	CommonPractice = Citation{"common practice", "", "", Practice, Unsourced}
)

// All lists the table.
func All() []Citation {
	return []Citation{
		PDVDMHeader, PDIdentity, PDIDHeader, PDProductType, PDVendorID, PDProduct, PDCertStat, PDPassive, PDActive1, PDActive2,
		PDVPD, PDCableWord, PD2CableWord, PDSVIDs, PDModes, PDVersions, PDPPS,
		TypeCDrop, TypeCContacts, TypeCCables, TypeCLengths, TypeCEPR, TypeCNo5A20V, TypeCLegacy, TypeCActive, TypeCUSB4, TypeCCaptive, USB4V2, TypeCTBT, DPCable,
		USBIFPower, USBIFData, ILACG8, JCGM106, GUM, IECMillivolt, IEC60228, ASTMB566, NatureLight, NatureWatt, NatureCopper, VESACVT, VESADP, OwnLogic, OwnReasoning, CommonPractice,
	}
}
