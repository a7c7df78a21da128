package vdo

// IDHeader is the first identity word.
//
// Source: PD R3.x, ID Header VDO table and its cable plug product types; PD
// R2.0 V1.3 T 6-23 for the older form.
type IDHeader uint32

const (
	idHost      span = 31<<8 + 31
	idDevice    span = 30<<8 + 30
	idProduct   span = 29<<8 + 27
	idModal     span = 26<<8 + 26
	idDFP       span = 25<<8 + 23
	idConnector span = 22<<8 + 21
	idReserved  span = 20<<8 + 16
	idVendor    span = 15<<8 + 0

	idReservedPD2 span = 25<<8 + 16 // PD 2.0
)

// ProductType is what an ID header says answered. The same three bits mean
// other things in a port partner's header.
type ProductType uint8

const (
	NotACable   ProductType = 0b000 // neither a cable plug nor a VPD
	PassiveType ProductType = 0b011 // no electronics in the path of the data
	ActiveType  ProductType = 0b100 // electronics in the path of the data
	VPDType     ProductType = 0b110 // PD 3.x
)

// ID is the product type's name in JSON; empty for reserved codes.
func (p ProductType) ID() string {
	switch p {
	case NotACable:
		return "none"
	case PassiveType:
		return "passive-cable"
	case ActiveType:
		return "active-cable"
	case VPDType:
		return "vpd"
	}
	return ""
}

// String is the product type in words, as "passive cable".
func (p ProductType) String() string { return productTypes.name(uint32(p)) }

// Host reports whether the sender says it can act as a USB host. A plug says no.
func (w IDHeader) Host() bool { return idHost.is(uint32(w)) }

// Device reports whether the sender says it can enumerate as a USB device. A
// passive or active cable says no, a VPD yes.
func (w IDHeader) Device() bool { return idDevice.is(uint32(w)) }

// Product is the product type code, read as a cable plug's.
func (w IDHeader) Product() ProductType { return ProductType(idProduct.get(uint32(w))) }

// OfCable reports whether a word can be the ID header of a cable plug or a VPD: its
// product type is one of theirs, and bits 20..16, which every revision of PD reserves,
// are zero. This tells an ID header from a VDM header under a vendor's SVID, whose bits
// 20..16 are part of the SVID: 0x1E4EA043 is an answer to Discover Modes.
func (w IDHeader) OfCable() bool {
	switch w.Product() {
	case PassiveType, ActiveType, VPDType:
		return idHeaderLayout.ReservedMask()&uint32(w) == 0
	}
	return false
}

// Modal reports whether the sender says it supports alternate modes.
func (w IDHeader) Modal() bool { return idModal.is(uint32(w)) }

// DFP is the product type of a downstream-facing port. A cable plug has no use
// for it and leaves it 0.
func (w IDHeader) DFP() int { return int(idDFP.get(uint32(w))) }

// Connector is the raw connector type: 2 receptacle, 3 plug, 0 in older
// products (PD 3.x only).
func (w IDHeader) Connector() int { return int(idConnector.get(uint32(w))) }

// VendorID is the USB vendor ID; 0xFFFF where the vendor has none.
func (w IDHeader) VendorID() uint16 { return uint16(idVendor.get(uint32(w))) }

var (
	productTypes = &values{codes: []Code{
		{uint32(NotACable), "not a cable plug", Defined},
		{uint32(PassiveType), "passive cable", Defined},
		{uint32(ActiveType), "active cable", Defined},
		{uint32(VPDType), "VCONN-powered USB device", Defined},
	}}
	productTypesPD2 = &values{codes: []Code{
		{uint32(NotACable), "undefined", Defined},
		{uint32(PassiveType), "passive cable", Defined},
		{uint32(ActiveType), "active cable", Defined},
		{uint32(VPDType), "VCONN-powered USB device, of PD 3.x", Defined}, // asked by a PD 2.0 port
	}}
	productTypesPartner = &values{codes: []Code{
		{0b000, "not a USB device", Defined},
		{0b001, "hub", Defined},
		{0b010, "peripheral", Defined},
		{0b011, "power supply", Defined},
		{0b101, "alternate mode adapter", Defined},
		{0b110, "VCONN-powered USB device", Defined},
	}}
	dfpTypes        = &values{codes: []Code{{0, "none", Defined}}}
	dfpTypesPartner = &values{codes: []Code{
		{0, "not a host", Defined}, {1, "hub", Defined},
		{2, "host", Defined}, {3, "power source", Defined},
	}}
	connectors = &values{codes: []Code{
		{0b00, "not stated (older product)", Defined},
		{0b10, "receptacle", Defined},
		{0b11, "plug", Defined},
	}}
	vendors = &values{number: hex4, codes: []Code{
		{0x0000, "0x0000, assigned to nobody", Defined},
		{0xFFFF, "0xFFFF, the vendor has none", Defined},
	}}
)

// idFields builds one of the three forms. dfp is nil for that of PD 2.0, in which
// bits 25 to 16 are reserved.
func idFields(products, dfp *values) []Field {
	middle := []Field{
		{bits: idDFP, Name: "product-type-dfp", Title: "Product type as port", vals: dfp},
		{bits: idConnector, Name: "connector", Title: "Connector", vals: connectors},
		{bits: idReserved, Name: "reserved-20-16", Title: "Reserved"},
	}
	if dfp == nil {
		middle = []Field{{bits: idReservedPD2, Name: "reserved-25-16", Title: "Reserved"}}
	}
	fields := make([]Field, 0, 5+len(middle))
	fields = append(fields,
		Field{bits: idHost, Name: "usb-host", Title: "Can act as USB host", vals: yesNo},
		Field{bits: idDevice, Name: "usb-device", Title: "Can act as USB device", vals: yesNo},
		Field{bits: idProduct, Name: "product-type", Title: "Product type", vals: products},
		Field{bits: idModal, Name: "modal", Title: "Supports alternate modes", vals: yesNo})
	fields = append(fields, middle...)
	return append(fields, Field{bits: idVendor, Name: "vendor-id", Title: "Vendor ID", vals: vendors})
}

var idHeaderLayout = Layout{
	name: "id-header", title: "ID Header VDO", since: "PD R3.0 and later, cable plugs",
	source: "PD R3.x, ID Header VDO table",
	fields: idFields(productTypes, dfpTypes),
}

var idHeaderPartnerLayout = Layout{
	name: "id-header-partner", title: "ID Header VDO of a port partner", since: "PD R3.0 and later, SOP",
	source: "PD R3.x, ID Header VDO table",
	fields: idFields(productTypesPartner, dfpTypesPartner),
}

var idHeaderPD2Layout = Layout{
	name: "id-header-pd2", title: "ID Header VDO, PD 2.0", since: "structured version 1.0",
	source: "PD R2.0 V1.3, ID Header VDO table (T 6-23)",
	fields: idFields(productTypesPD2, nil),
}

// CertStat is the second identity word: the XID that USB-IF assigns to a product
// before certification. Zero means that none was presented.
//
// Source: PD R3.x, Cert Stat VDO table. The earliest PD 2.0 text used 20 bits;
// such a word reads the same.
type CertStat uint32

const certXID span = 31<<8 + 0

// XID is the certification test identifier, 0 for none.
func (w CertStat) XID() uint32 { return certXID.get(uint32(w)) }

var certStatLayout = Layout{
	name: "cert-stat", title: "Cert Stat VDO", since: "PD R2.0 and later",
	source: "PD R3.x, Cert Stat VDO table",
	fields: []Field{
		{bits: certXID, Name: "certification-id", Title: "Certification ID (XID)",
			vals: &values{number: hex8, codes: []Code{{0, "none presented", Defined}}}},
	},
}

// Product is the third identity word.
//
// Source: PD R3.x, Product VDO table. One relay has the halves swapped; three
// others agree on this order.
type Product uint32

const (
	productID      span = 31<<8 + 16
	productRelease span = 15<<8 + 0
)

// ProductID is the USB product ID.
func (w Product) ProductID() uint16 { return uint16(productID.get(uint32(w))) }

// Release is bcdDevice, binary-coded decimal: 0x0100 is 1.00.
func (w Product) Release() uint16 { return uint16(productRelease.get(uint32(w))) }

var productLayout = Layout{
	name: "product", title: "Product VDO", since: "PD R2.0 and later",
	source: "PD R3.x, Product VDO table",
	fields: []Field{
		{bits: productID, Name: "product-id", Title: "Product ID", vals: identifiers},
		{bits: productRelease, Name: "release", Title: "Release (bcdDevice)", vals: releases},
	},
}

// Cable reports whether the product is a passive or an active cable.
func (p ProductType) Cable() bool { return p == PassiveType || p == ActiveType }
