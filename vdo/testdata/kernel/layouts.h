/*
 * The words as the macros of the Linux kernel's headers know them: which fields
 * a macro composes a word from, and which it takes from a word. Included by the
 * programs beside it. Names are those of package vdo.
 */
#include <linux/usb/pd_vdo.h>
#include <linux/usb/typec_dp.h>
#include <linux/usb/typec_tbt.h>

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* A field: its name in package vdo, and the bits the kernel's macro takes. */
struct field {
	const char *name;
	int bits;
};

#define MAX_FIELDS 14

struct layout {
	const char *name;
	u32 (*compose)(const u32 *v);
	struct field f[MAX_FIELDS];
};

static u32 header(const u32 *v)
{
	return VDO(v[0], v[1], v[2], VDO_OPOS(v[3]) | VDO_CMDT(v[4]) | (v[5] ? VDO_SRC_RESPONDER : VDO_SRC_INITIATOR) | v[6]);
}

static u32 id_header(const u32 *v)
{
	return VDO_IDH(v[0], v[1], v[2], v[3], v[4], v[5], v[6]);
}

static u32 id_header_pd2(const u32 *v)
{
	return VDO_IDH(v[0], v[1], v[2], v[3], 0, 0, v[4]);
}

static u32 cert_stat(const u32 *v)
{
	return VDO_CERT(v[0]);
}

static u32 product(const u32 *v)
{
	return VDO_PRODUCT(v[0], v[1]);
}

static u32 active_pd2(const u32 *v)
{
	return VDO_CABLE(v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8], v[9], v[10], v[11], v[12]);
}

static u32 passive_pd2(const u32 *v)
{
	return VDO_CABLE(v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8], v[9], v[10], 0, v[11]);
}

static u32 passive(const u32 *v)
{
	return VDO_PCABLE(v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8]);
}

static u32 active1(const u32 *v)
{
	return VDO_ACABLE1(v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8], v[9], v[10], v[11], v[12]);
}

static u32 active1_v12(const u32 *v)
{
	return VDO_ACABLE1(v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8], v[9], v[10], v[11], 0);
}

static u32 active_early(const u32 *v)
{
	return VDO_ACABLE1(v[0], v[1], v[2], v[3], v[4], v[5], v[6], 0, 0, v[7], v[8], v[9], v[10]);
}

static u32 active2(const u32 *v)
{
	return VDO_ACABLE2(v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7], v[8], v[9], v[10], v[11], v[12]);
}

static u32 active2_v12(const u32 *v)
{
	return VDO_ACABLE2(v[0], v[1], v[2], v[3], 0, 0, 0, v[4], v[5], v[6], v[7], 0, v[8]);
}

static u32 vpd(const u32 *v)
{
	return VDO_VPD(v[0], v[1], v[2], v[3], v[4], v[5], v[6], v[7]);
}

static u32 svid_pair(const u32 *v)
{
	return VDO_SVID(v[0], v[1]);
}

static u32 thunderbolt(const u32 *v)
{
	return (v[0] ? TBT_CABLE_LINK_TRAINING : 0) | (v[1] ? TBT_CABLE_RETIMER : 0) | (v[2] ? TBT_CABLE_OPTICAL : 0) |
	       TBT_SET_CABLE_ROUNDED(v[3]) | TBT_SET_CABLE_SPEED(v[4]) | (v[5] ? TBT_MODE : 0);
}

#ifdef TBT_CABLE_ACTIVE_PASSIVE
static u32 thunderbolt_ecn(const u32 *v)
{
	return (v[0] ? TBT_CABLE_ACTIVE_PASSIVE : 0) | thunderbolt(v + 1);
}
#endif

static const struct layout layouts[] = {
	{ "vdm-header", header,
	  { { "svid", 16 }, { "structured", 1 }, { "version-major", 2 }, { "object-position", 3 }, { "command-type", 2 },
	    { "reserved-5", 1 }, { "command", 5 } } },
	{ "id-header", id_header,
	  { { "usb-host", 1 }, { "usb-device", 1 }, { "product-type", 3 }, { "modal", 1 }, { "product-type-dfp", 3 },
	    { "connector", 2 }, { "vendor-id", 16 } } },
	{ "id-header-partner", id_header,
	  { { "usb-host", 1 }, { "usb-device", 1 }, { "product-type", 3 }, { "modal", 1 }, { "product-type-dfp", 3 },
	    { "connector", 2 }, { "vendor-id", 16 } } },
	{ "id-header-pd2", id_header_pd2,
	  { { "usb-host", 1 }, { "usb-device", 1 }, { "product-type", 3 }, { "modal", 1 }, { "vendor-id", 16 } } },
	{ "cert-stat", cert_stat, { { "certification-id", 32 } } },
	{ "product", product, { { "product-id", 16 }, { "release", 16 } } },
	{ "active-cable-pd2", active_pd2,
	  { { "hardware-version", 3 }, { "firmware-version", 3 }, { "other-end", 2 }, { "latency", 3 }, { "termination", 2 },
	    { "sstx1-direction", 1 }, { "sstx2-direction", 1 }, { "ssrx1-direction", 1 }, { "ssrx2-direction", 1 },
	    { "vbus-current", 2 }, { "vbus-through", 1 }, { "far-plug", 1 }, { "speed", 3 } } },
	{ "passive-cable-pd2", passive_pd2,
	  { { "hardware-version", 3 }, { "firmware-version", 3 }, { "other-end", 2 }, { "latency", 3 }, { "termination", 2 },
	    { "sstx1-direction", 1 }, { "sstx2-direction", 1 }, { "ssrx1-direction", 1 }, { "ssrx2-direction", 1 },
	    { "vbus-current", 2 }, { "vbus-through", 1 }, { "speed", 3 } } },
	{ "passive-cable", passive,
	  { { "hardware-version", 4 }, { "firmware-version", 4 }, { "vdo-version", 3 }, { "plug-type", 2 }, { "latency", 4 },
	    { "termination", 2 }, { "max-voltage", 2 }, { "vbus-current", 2 }, { "speed", 3 } } },
	{ "active-cable-1", active1,
	  { { "hardware-version", 4 }, { "firmware-version", 4 }, { "vdo-version", 3 }, { "plug-type", 2 }, { "latency", 4 },
	    { "termination", 2 }, { "max-voltage", 2 }, { "sbu", 1 }, { "sbu-type", 1 }, { "vbus-current", 2 },
	    { "vbus-through", 1 }, { "far-plug", 1 }, { "speed", 3 } } },
	{ "active-cable-1-v12", active1_v12,
	  { { "hardware-version", 4 }, { "firmware-version", 4 }, { "vdo-version", 3 }, { "plug-type", 2 }, { "latency", 4 },
	    { "termination", 2 }, { "max-voltage", 2 }, { "sbu", 1 }, { "sbu-type", 1 }, { "vbus-current", 2 },
	    { "vbus-through", 1 }, { "far-plug", 1 } } },
	{ "active-cable-early", active_early,
	  { { "hardware-version", 4 }, { "firmware-version", 4 }, { "vdo-version", 3 }, { "plug-type", 2 }, { "latency", 4 },
	    { "termination", 2 }, { "max-voltage", 2 }, { "vbus-current", 2 }, { "vbus-through", 1 }, { "far-plug", 1 },
	    { "speed", 3 } } },
	{ "active-cable-2", active2,
	  { { "max-temperature", 8 }, { "shutdown-temperature", 8 }, { "u3-power", 3 }, { "u3-to-u0", 1 }, { "medium", 1 },
	    { "active-element", 1 }, { "usb4", 1 }, { "usb2-hub-hops", 2 }, { "usb2", 1 }, { "usb32", 1 }, { "lanes", 1 },
	    { "isolated", 1 }, { "generation", 1 } } },
	{ "active-cable-2-v12", active2_v12,
	  { { "max-temperature", 8 }, { "shutdown-temperature", 8 }, { "u3-power", 3 }, { "u3-to-u0", 1 },
	    { "usb2-hub-hops", 2 }, { "usb2", 1 }, { "usb32", 1 }, { "lanes", 1 }, { "signalling", 1 } } },
	{ "vpd", vpd,
	  { { "hardware-version", 4 }, { "firmware-version", 4 }, { "vdo-version", 3 }, { "max-voltage", 2 },
	    { "charge-through-current", 1 }, { "vbus-impedance", 6 }, { "ground-impedance", 6 }, { "charge-through", 1 } } },
	{ "svid-pair", svid_pair, { { "svid-first", 16 }, { "svid-second", 16 } } },
	{ "thunderbolt-cable", thunderbolt,
	  { { "link-training", 1 }, { "retimer", 1 }, { "medium", 1 }, { "rounded", 2 }, { "speed", 3 }, { "mode", 1 } } },
#ifdef TBT_CABLE_ACTIVE_PASSIVE
	{ "thunderbolt-cable", thunderbolt_ecn,
	  { { "active", 1 }, { "link-training", 1 }, { "retimer", 1 }, { "medium", 1 }, { "rounded", 2 }, { "speed", 3 },
	    { "mode", 1 } } },
#endif
};

static u32 most(const struct field *f)
{
	return UINT32_C(0xffffffff) >> (32 - f->bits);
}

/* What the macros take from the words of one layout. */
struct extractor {
	const char *name;
	void (*extract)(u32 w, u32 *v);
	const char *field[MAX_FIELDS];
	u32 unknown; /* bits of those fields that the macro knows nothing of */
};

static void from_header(u32 w, u32 *v)
{
	v[0] = PD_VDO_VID(w);
	v[1] = PD_VDO_SVDM(w);
	v[2] = PD_VDO_SVDM_VER(w);
	v[3] = PD_VDO_OPOS(w);
	v[4] = PD_VDO_CMDT(w);
	v[5] = PD_VDO_CMD(w);
}

static void from_unstructured(u32 w, u32 *v)
{
	v[0] = PD_VDO_VID(w);
	v[1] = PD_VDO_SVDM(w);
}

static void from_id_header(u32 w, u32 *v)
{
	v[0] = PD_IDH_PTYPE(w);
	v[1] = PD_IDH_VID(w);
	v[2] = !!PD_IDH_MODAL_SUPP(w);
	v[3] = PD_IDH_DFP_PTYPE(w);
	v[4] = PD_IDH_CONN_TYPE(w);
#ifdef PD_IDH_HOST_SUPP
	v[5] = !!PD_IDH_HOST_SUPP(w);
#endif
}

static void from_cert_stat(u32 w, u32 *v)
{
	v[0] = PD_CSTAT_XID(w);
}

static void from_product(u32 w, u32 *v)
{
	v[0] = PD_PRODUCT_PID(w);
}

static void from_svid_pair(u32 w, u32 *v)
{
	v[0] = PD_VDO_SVID_SVID0(w);
	v[1] = PD_VDO_SVID_SVID1(w);
}

static void from_plug(u32 w, u32 *v)
{
	v[0] = VDO_TYPEC_CABLE_TYPE(w);
}

#ifdef VDO_TYPEC_CABLE_SPEED
static void from_speed(u32 w, u32 *v)
{
	v[0] = VDO_TYPEC_CABLE_SPEED(w);
}
#endif

static void from_thunderbolt(u32 w, u32 *v)
{
	v[0] = TBT_CABLE_SPEED(w);
	v[1] = TBT_CABLE_ROUNDED_SUPPORT(w);
}

static void from_displayport(u32 w, u32 *v)
{
	v[0] = DP_CAP_UFP_D_PIN_ASSIGN(w);
	v[1] = DP_CAP_DFP_D_PIN_ASSIGN(w);
#ifdef DP_CAP_DPAM_VERSION
	v[2] = !!(w & DP_CAP_DPAM_VERSION);
	v[3] = DP_CAP_CABLE_TYPE(w);
	v[4] = !!(w & DP_CAP_UHBR_13_5_SUPPORT);
	v[5] = DP_CAP_DP_SIGNALLING(w);
#endif
}

static const struct extractor extractors[] = {
	{ "vdm-header", from_header, { "svid", "structured", "version-major", "object-position", "command-type", "command" } },
	{ "unstructured-header", from_unstructured, { "vendor-id", "structured" } },
#ifdef PD_IDH_HOST_SUPP
	{ "id-header", from_id_header, { "product-type", "vendor-id", "modal", "product-type-dfp", "connector", "usb-host" } },
#else
	{ "id-header", from_id_header, { "product-type", "vendor-id", "modal", "product-type-dfp", "connector" } },
#endif
	{ "cert-stat", from_cert_stat, { "certification-id" } },
	{ "product", from_product, { "product-id" } },
	{ "svid-pair", from_svid_pair, { "svid-first", "svid-second" } },
	{ "passive-cable-pd2", from_plug, { "other-end" } },
	{ "active-cable-pd2", from_plug, { "other-end" } },
	{ "passive-cable", from_plug, { "plug-type" } },
	{ "active-cable-early", from_plug, { "plug-type" } },
	{ "active-cable-1-v12", from_plug, { "plug-type" } },
	{ "active-cable-1", from_plug, { "plug-type" } },
#ifdef VDO_TYPEC_CABLE_SPEED
	{ "passive-cable", from_speed, { "speed" } },
	{ "active-cable-1", from_speed, { "speed" } },
	{ "passive-cable-pd2", from_speed, { "speed" } },
#endif
	{ "thunderbolt-cable", from_thunderbolt, { "speed", "rounded" } },
#ifdef DP_CAP_DPAM_VERSION
	{ "displayport-cable", from_displayport,
	  { "ufp-pins", "dfp-pins", "version", "active-component", "uhbr13.5", "signalling" }, BIT(31) },
#else
	{ "displayport-cable", from_displayport, { "ufp-pins", "dfp-pins" } },
#endif
};
