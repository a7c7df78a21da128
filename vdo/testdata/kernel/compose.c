/*
 * Composes VDOs with the macros of the Linux kernel's headers and prints them
 * with the numbers they were composed from, for a Go test to compare with
 * package vdo. The headers are included, nothing of them is copied.
 *
 * Output, one item a line:
 *   compose LAYOUT FIELD...      heads a list of lines WORD NUMBER...
 *   extract LAYOUT FIELD         heads a list of lines WORD NUMBER
 *   constant NAME LAYOUT FIELD NUMBER
 * Words are hexadecimal, numbers decimal. Names are those of package vdo.
 *
 * Where the headers of one kernel have no macro for a field, the field stays
 * zero or the item is left out; kernel_test.go says which.
 */
#include <stdio.h>

#include <linux/usb/pd_vdo.h>
#include <linux/usb/typec_dp.h>
#include <linux/usb/typec_tbt.h>

static u32 state = 1;

/* xorshift32: the same numbers in every run. */
static u32 any(void)
{
	state ^= state << 13;
	state ^= state >> 17;
	state ^= state << 5;
	return state;
}

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

static void print(const struct layout *l, const u32 *v)
{
	int i;

	printf("%08x", l->compose(v));
	for (i = 0; i < MAX_FIELDS && l->f[i].name; i++)
		printf(" %u", v[i]);
	putchar('\n');
}

static void fill(const struct layout *l, u32 *v, bool zero)
{
	int i;

	for (i = 0; i < MAX_FIELDS && l->f[i].name; i++)
		v[i] = zero ? 0 : any() & most(&l->f[i]);
}

/*
 * Each field through all its values, 256 of them for a wide field, once with
 * the other fields zero and once with random ones; then random words.
 */
static void compose(const struct layout *l)
{
	u32 v[MAX_FIELDS] = { 0 };
	int i, pass;
	u32 n;

	printf("compose %s", l->name);
	for (i = 0; i < MAX_FIELDS && l->f[i].name; i++)
		printf(" %s", l->f[i].name);
	putchar('\n');
	for (i = 0; i < MAX_FIELDS && l->f[i].name; i++) {
		for (pass = 0; pass < 2; pass++) {
			for (n = 0; n <= most(&l->f[i]) && n < 256; n++) {
				fill(l, v, pass == 0);
				v[i] = l->f[i].bits > 8 ? any() & most(&l->f[i]) : n;
				print(l, v);
			}
			fill(l, v, pass == 0);
			v[i] = most(&l->f[i]);
			print(l, v);
		}
	}
	for (n = 0; n < 2000; n++) {
		fill(l, v, false);
		print(l, v);
	}
}

/* Lists what a macro makes of 300 random words, masked where it knows less. */
#define EXTRACT(layout, field, mask, macro)                                       \
	do {                                                                      \
		int i_;                                                           \
		printf("extract %s %s\n", layout, field);                         \
		for (i_ = 0; i_ < 300; i_++) {                                    \
			u32 w = any() & (mask);                                   \
			printf("%08x %u\n", w, (u32)(macro));                     \
		}                                                                 \
	} while (0)

#define ALL UINT32_C(0xffffffff)

static void extract(void)
{
	static const char *const plugs[] = { "passive-cable", "active-cable-early", "active-cable-1-v12", "active-cable-1" };
	unsigned int i;

	EXTRACT("vdm-header", "svid", ALL, PD_VDO_VID(w));
	EXTRACT("vdm-header", "structured", ALL, PD_VDO_SVDM(w));
	EXTRACT("vdm-header", "version-major", ALL, PD_VDO_SVDM_VER(w));
	EXTRACT("vdm-header", "object-position", ALL, PD_VDO_OPOS(w));
	EXTRACT("vdm-header", "command-type", ALL, PD_VDO_CMDT(w));
	EXTRACT("vdm-header", "command", ALL, PD_VDO_CMD(w));
	EXTRACT("unstructured-header", "vendor-id", ALL, PD_VDO_VID(w));
	EXTRACT("unstructured-header", "structured", ALL, PD_VDO_SVDM(w));
	EXTRACT("id-header", "product-type", ALL, PD_IDH_PTYPE(w));
	EXTRACT("id-header", "vendor-id", ALL, PD_IDH_VID(w));
	EXTRACT("id-header", "modal", ALL, !!PD_IDH_MODAL_SUPP(w));
	EXTRACT("id-header", "product-type-dfp", ALL, PD_IDH_DFP_PTYPE(w));
	EXTRACT("id-header", "connector", ALL, PD_IDH_CONN_TYPE(w));
	EXTRACT("cert-stat", "certification-id", ALL, PD_CSTAT_XID(w));
	EXTRACT("product", "product-id", ALL, PD_PRODUCT_PID(w));
	EXTRACT("svid-pair", "svid-first", ALL, PD_VDO_SVID_SVID0(w));
	EXTRACT("svid-pair", "svid-second", ALL, PD_VDO_SVID_SVID1(w));
	EXTRACT("passive-cable-pd2", "other-end", ALL, VDO_TYPEC_CABLE_TYPE(w));
	EXTRACT("active-cable-pd2", "other-end", ALL, VDO_TYPEC_CABLE_TYPE(w));
	for (i = 0; i < sizeof(plugs) / sizeof(plugs[0]); i++)
		EXTRACT(plugs[i], "plug-type", ALL, VDO_TYPEC_CABLE_TYPE(w));
#ifdef VDO_TYPEC_CABLE_SPEED
	EXTRACT("passive-cable", "speed", ALL, VDO_TYPEC_CABLE_SPEED(w));
	EXTRACT("active-cable-1", "speed", ALL, VDO_TYPEC_CABLE_SPEED(w));
	EXTRACT("passive-cable-pd2", "speed", ALL, VDO_TYPEC_CABLE_SPEED(w));
#endif
#ifdef PD_IDH_HOST_SUPP
	EXTRACT("id-header", "usb-host", ALL, !!PD_IDH_HOST_SUPP(w));
#endif
	EXTRACT("thunderbolt-cable", "speed", ALL, TBT_CABLE_SPEED(w));
	EXTRACT("thunderbolt-cable", "rounded", ALL, TBT_CABLE_ROUNDED_SUPPORT(w));
	EXTRACT("displayport-cable", "ufp-pins", ALL, DP_CAP_UFP_D_PIN_ASSIGN(w));
	EXTRACT("displayport-cable", "dfp-pins", ALL, DP_CAP_DFP_D_PIN_ASSIGN(w));
#ifdef DP_CAP_DPAM_VERSION
	EXTRACT("displayport-cable", "version", ~BIT(31), !!(w & DP_CAP_DPAM_VERSION));
	EXTRACT("displayport-cable", "active-component", ALL, DP_CAP_CABLE_TYPE(w));
	EXTRACT("displayport-cable", "uhbr13.5", ALL, !!(w & DP_CAP_UHBR_13_5_SUPPORT));
	EXTRACT("displayport-cable", "signalling", ALL, DP_CAP_DP_SIGNALLING(w));
#endif
}

#define CONSTANT(name, layout, field) printf("constant " #name " " layout " " field " %u\n", (u32)(name))

static void constants(void)
{
	CONSTANT(CMDT_INIT, "vdm-header", "command-type");
	CONSTANT(CMDT_RSP_ACK, "vdm-header", "command-type");
	CONSTANT(CMDT_RSP_NAK, "vdm-header", "command-type");
	CONSTANT(CMDT_RSP_BUSY, "vdm-header", "command-type");
	CONSTANT(CMD_DISCOVER_IDENT, "vdm-header", "command");
	CONSTANT(CMD_DISCOVER_SVID, "vdm-header", "command");
	CONSTANT(CMD_DISCOVER_MODES, "vdm-header", "command");
	CONSTANT(CMD_ENTER_MODE, "vdm-header", "command");
	CONSTANT(CMD_EXIT_MODE, "vdm-header", "command");
	CONSTANT(CMD_ATTENTION, "vdm-header", "command");
	CONSTANT(DP_CMD_STATUS_UPDATE, "vdm-header", "command");
	CONSTANT(DP_CMD_CONFIGURE, "vdm-header", "command");
	CONSTANT(USB_SID_PD, "vdm-header", "svid");
	CONSTANT(USB_SID_DISPLAYPORT, "vdm-header", "svid");
	CONSTANT(USB_SID_MHL, "vdm-header", "svid");
	CONSTANT(USB_TYPEC_TBT_SID, "vdm-header", "svid");
	CONSTANT(IDH_PTYPE_UNDEF, "id-header-pd2", "product-type");
	CONSTANT(IDH_PTYPE_NOT_UFP, "id-header-partner", "product-type");
	CONSTANT(IDH_PTYPE_HUB, "id-header-partner", "product-type");
	CONSTANT(IDH_PTYPE_PERIPH, "id-header-partner", "product-type");
	CONSTANT(IDH_PTYPE_PSD, "id-header-partner", "product-type");
	CONSTANT(IDH_PTYPE_AMA, "id-header-partner", "product-type");
	CONSTANT(IDH_PTYPE_NOT_CABLE, "id-header", "product-type");
	CONSTANT(IDH_PTYPE_PCABLE, "id-header", "product-type");
	CONSTANT(IDH_PTYPE_ACABLE, "id-header", "product-type");
	CONSTANT(IDH_PTYPE_VPD, "id-header", "product-type");
	CONSTANT(IDH_PTYPE_NOT_DFP, "id-header-partner", "product-type-dfp");
	CONSTANT(IDH_PTYPE_DFP_HUB, "id-header-partner", "product-type-dfp");
	CONSTANT(IDH_PTYPE_DFP_HOST, "id-header-partner", "product-type-dfp");
	CONSTANT(IDH_PTYPE_DFP_PB, "id-header-partner", "product-type-dfp");
	CONSTANT(CABLE_VDO_VER1_0, "passive-cable", "vdo-version");
	CONSTANT(CABLE_VDO_VER1_3, "active-cable-1", "vdo-version");
	CONSTANT(CABLE_ATYPE, "passive-cable-pd2", "other-end");
	CONSTANT(CABLE_BTYPE, "passive-cable-pd2", "other-end");
	CONSTANT(CABLE_CTYPE, "passive-cable", "plug-type");
	CONSTANT(CABLE_CAPTIVE, "passive-cable", "plug-type");
	CONSTANT(CABLE_LATENCY_1M, "passive-cable", "latency");
	CONSTANT(CABLE_LATENCY_2M, "passive-cable", "latency");
	CONSTANT(CABLE_LATENCY_3M, "passive-cable", "latency");
	CONSTANT(CABLE_LATENCY_4M, "passive-cable", "latency");
	CONSTANT(CABLE_LATENCY_5M, "passive-cable", "latency");
	CONSTANT(CABLE_LATENCY_6M, "passive-cable", "latency");
	CONSTANT(CABLE_LATENCY_7M, "passive-cable", "latency");
	CONSTANT(CABLE_LATENCY_7M_PLUS, "passive-cable", "latency");
	CONSTANT(PCABLE_VCONN_NOT_REQ, "passive-cable", "termination");
	CONSTANT(PCABLE_VCONN_REQ, "passive-cable", "termination");
	CONSTANT(ACABLE_ONE_END, "active-cable-1", "termination");
	CONSTANT(ACABLE_BOTH_END, "active-cable-1", "termination");
	CONSTANT(CABLE_MAX_VBUS_20V, "passive-cable", "max-voltage");
	CONSTANT(CABLE_MAX_VBUS_30V, "passive-cable", "max-voltage");
	CONSTANT(CABLE_MAX_VBUS_40V, "passive-cable", "max-voltage");
	CONSTANT(CABLE_MAX_VBUS_50V, "passive-cable", "max-voltage");
	CONSTANT(ACABLE_SBU_SUPP, "active-cable-1", "sbu");
	CONSTANT(ACABLE_SBU_NOT_SUPP, "active-cable-1", "sbu");
	CONSTANT(ACABLE_SBU_PASSIVE, "active-cable-1", "sbu-type");
	CONSTANT(ACABLE_SBU_ACTIVE, "active-cable-1", "sbu-type");
	CONSTANT(CABLE_CURR_DEF, "active-cable-1", "vbus-current");
	CONSTANT(CABLE_CURR_3A, "passive-cable", "vbus-current");
	CONSTANT(CABLE_CURR_5A, "passive-cable", "vbus-current");
	CONSTANT(CABLE_USBSS_U2_ONLY, "passive-cable-pd2", "speed");
	CONSTANT(CABLE_USBSS_U31_GEN1, "passive-cable-pd2", "speed");
	CONSTANT(CABLE_USBSS_U31_GEN2, "passive-cable-pd2", "speed");
	CONSTANT(CABLE_USB2_ONLY, "passive-cable", "speed");
	CONSTANT(CABLE_USB32_GEN1, "passive-cable", "speed");
	CONSTANT(CABLE_USB32_4_GEN2, "passive-cable", "speed");
	CONSTANT(CABLE_USB4_GEN3, "passive-cable", "speed");
	CONSTANT(ACAB2_U3_CLD_10MW_PLUS, "active-cable-2", "u3-power");
	CONSTANT(ACAB2_U3_CLD_10MW, "active-cable-2", "u3-power");
	CONSTANT(ACAB2_U3_CLD_5MW, "active-cable-2", "u3-power");
	CONSTANT(ACAB2_U3_CLD_1MW, "active-cable-2", "u3-power");
	CONSTANT(ACAB2_U3_CLD_500UW, "active-cable-2", "u3-power");
	CONSTANT(ACAB2_U3_CLD_200UW, "active-cable-2", "u3-power");
	CONSTANT(ACAB2_U3_CLD_50UW, "active-cable-2", "u3-power");
	CONSTANT(ACAB2_U3U0_DIRECT, "active-cable-2", "u3-to-u0");
	CONSTANT(ACAB2_U3U0_U3S, "active-cable-2", "u3-to-u0");
	CONSTANT(ACAB2_PHY_COPPER, "active-cable-2", "medium");
	CONSTANT(ACAB2_PHY_OPTICAL, "active-cable-2", "medium");
	CONSTANT(ACAB2_REDRIVER, "active-cable-2", "active-element");
	CONSTANT(ACAB2_RETIMER, "active-cable-2", "active-element");
	CONSTANT(ACAB2_USB4_SUPP, "active-cable-2", "usb4");
	CONSTANT(ACAB2_USB4_NOT_SUPP, "active-cable-2", "usb4");
	CONSTANT(ACAB2_USB2_SUPP, "active-cable-2", "usb2");
	CONSTANT(ACAB2_USB2_NOT_SUPP, "active-cable-2", "usb2");
	CONSTANT(ACAB2_USB32_SUPP, "active-cable-2", "usb32");
	CONSTANT(ACAB2_USB32_NOT_SUPP, "active-cable-2", "usb32");
	CONSTANT(ACAB2_LANES_ONE, "active-cable-2", "lanes");
	CONSTANT(ACAB2_LANES_TWO, "active-cable-2", "lanes");
	CONSTANT(ACAB2_OPT_ISO_NO, "active-cable-2", "isolated");
	CONSTANT(ACAB2_OPT_ISO_YES, "active-cable-2", "isolated");
	CONSTANT(ACAB2_GEN_1, "active-cable-2", "generation");
	CONSTANT(ACAB2_GEN_2_PLUS, "active-cable-2", "generation");
	CONSTANT(VPD_VDO_VER1_0, "vpd", "vdo-version");
	CONSTANT(VPD_MAX_VBUS_20V, "vpd", "max-voltage");
	CONSTANT(VPD_MAX_VBUS_30V, "vpd", "max-voltage");
	CONSTANT(VPD_MAX_VBUS_40V, "vpd", "max-voltage");
	CONSTANT(VPD_MAX_VBUS_50V, "vpd", "max-voltage");
	CONSTANT(VPDCT_CURR_3A, "vpd", "charge-through-current");
	CONSTANT(VPDCT_CURR_5A, "vpd", "charge-through-current");
	CONSTANT(VPDCT_NOT_SUPP, "vpd", "charge-through");
	CONSTANT(VPDCT_SUPP, "vpd", "charge-through");
	CONSTANT(TBT_CABLE_USB3_GEN1, "thunderbolt-cable", "speed");
	CONSTANT(TBT_CABLE_USB3_PASSIVE, "thunderbolt-cable", "speed");
	CONSTANT(TBT_CABLE_10_AND_20GBPS, "thunderbolt-cable", "speed");
	CONSTANT(TBT_GEN3_NON_ROUNDED, "thunderbolt-cable", "rounded");
	CONSTANT(TBT_GEN3_GEN4_ROUNDED_NON_ROUNDED, "thunderbolt-cable", "rounded");
	CONSTANT(TBT_MODE, "thunderbolt-cable", "mode");
	CONSTANT(BIT(DP_PIN_ASSIGN_A), "displayport-cable", "dfp-pins");
	CONSTANT(BIT(DP_PIN_ASSIGN_C), "displayport-cable", "dfp-pins");
	CONSTANT(BIT(DP_PIN_ASSIGN_F), "displayport-cable", "ufp-pins");
#ifdef DP_CAP_DPAM_VERSION
	CONSTANT(DP_CAP_CABLE_TYPE_PASSIVE, "displayport-cable", "active-component");
	CONSTANT(DP_CAP_CABLE_TYPE_RE_TIMER, "displayport-cable", "active-component");
	CONSTANT(DP_CAP_CABLE_TYPE_RE_DRIVER, "displayport-cable", "active-component");
	CONSTANT(DP_CAP_CABLE_TYPE_OPTICAL, "displayport-cable", "active-component");
	CONSTANT(DP_CAP_SIGNALLING_HBR3, "displayport-cable", "signalling");
	CONSTANT(DP_CAP_SIGNALLING_UHBR10, "displayport-cable", "signalling");
#endif
}

int main(void)
{
	unsigned int i;

	for (i = 0; i < sizeof(layouts) / sizeof(layouts[0]); i++)
		compose(&layouts[i]);
	extract();
	constants();
	return 0;
}
