package frame

import "strconv"

func itoa(n int) string { return strconv.Itoa(n) }

// Kind is one of the three forms of message.
type Kind uint8

const (
	Control  Kind = iota // no data objects
	Data                 // 1 to 7 data objects
	Extended             // an extended header and bytes (PD 3.0 and later)
)

// String is "control", "data" or "extended".
func (k Kind) String() string {
	switch k {
	case Control:
		return "control"
	case Data:
		return "data"
	case Extended:
		return "extended"
	}
	return "kind " + itoa(int(k))
}

// Type is what a message is: its kind, and the number in the header.
type Type uint8

// typeKind is where the kind stands in a Type, above the header's five bits.
const typeKind = hdrType>>8 + 1

// NewType puts a kind and a number 0 to 31 together; of a larger number the low
// five bits count.
func NewType(k Kind, code int) Type {
	return Type(k<<typeKind) | Type(code&hdrType.most())
}

// Types that a cable plug sends or meets, and those a reader of a conversation
// needs by name. Type.String names all others the specification defines.
const (
	GoodCRC       = Type(Control)<<typeKind | 1  // a message came whole
	Accept        = Type(Control)<<typeKind | 3  // the answer to Soft Reset
	Reject        = Type(Control)<<typeKind | 4  // the answer no
	SoftReset     = Type(Control)<<typeKind | 13 // message numbers begin anew
	NotSupported  = Type(Control)<<typeKind | 16 // not known to the receiver (PD 3.0 and later)
	SourceCap     = Type(Data)<<typeKind | 1     // Source_Capabilities: what a charger offers
	VendorDefined = Type(Data)<<typeKind | 15    // a VDM: every answer of a marker
)

// Kind is the kind of message.
func (t Type) Kind() Kind { return Kind(t >> typeKind) }

// Code is the number in the header, 0 to 31.
func (t Type) Code() int { return int(t) & hdrType.most() }

// name is the specification's name, empty where it gives the number no meaning.
func (t Type) name() string {
	if k := t.Kind(); int(k) < len(typeNames) {
		return typeNames[k][t.Code()]
	}
	return ""
}

// String is the specification's name, or "reserved control message (0)".
func (t Type) String() string {
	if n := t.name(); n != "" {
		return n
	}
	return "reserved " + t.Kind().String() + " message (" + itoa(t.Code()) + ")"
}

// Defined tells whether the specification gives the number a meaning. PD 2.0
// has fewer than are listed here.
func (t Type) Defined() bool { return t.name() != "" }

// typeNames by kind and number. Sources: Linux 6.12 pd.h (a test compares all it
// lists), fact sheet §10.1. From memory: control types 14, 15 and 22 to 24,
// extended types 15 to 18 and 30.
var typeNames = [...][32]string{
	Control: {
		1: "GoodCRC", 2: "GotoMin", 3: "Accept", 4: "Reject", 5: "Ping", 6: "PS_RDY",
		7: "Get_Source_Cap", 8: "Get_Sink_Cap", 9: "DR_Swap", 10: "PR_Swap",
		11: "VCONN_Swap", 12: "Wait", 13: "Soft_Reset", 14: "Data_Reset",
		15: "Data_Reset_Complete", 16: "Not_Supported", 17: "Get_Source_Cap_Extended",
		18: "Get_Status", 19: "FR_Swap", 20: "Get_PPS_Status", 21: "Get_Country_Codes",
		22: "Get_Sink_Cap_Extended", 23: "Get_Source_Info", 24: "Get_Revision",
	},
	Data: {
		1: "Source_Capabilities", 2: "Request", 3: "BIST", 4: "Sink_Capabilities",
		5: "Battery_Status", 6: "Alert", 7: "Get_Country_Info", 8: "Enter_USB",
		9: "EPR_Request", 10: "EPR_Mode", 11: "Source_Info", 12: "Revision",
		15: "Vendor_Defined",
	},
	Extended: {
		1: "Source_Capabilities_Extended", 2: "Status", 3: "Get_Battery_Cap",
		4: "Get_Battery_Status", 5: "Battery_Capabilities", 6: "Get_Manufacturer_Info",
		7: "Manufacturer_Info", 8: "Security_Request", 9: "Security_Response",
		10: "Firmware_Update_Request", 11: "Firmware_Update_Response", 12: "PPS_Status",
		13: "Country_Info", 14: "Country_Codes", 15: "Sink_Capabilities_Extended",
		16: "Extended_Control", 17: "EPR_Source_Capabilities", 18: "EPR_Sink_Capabilities",
		30: "Vendor_Defined_Extended",
	},
}
