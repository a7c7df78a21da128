/*
 * Composes VDOs with the macros of the Linux kernel's headers and prints them
 * with the numbers they were composed from, for a Go test to compare with
 * package vdo. The headers are included, nothing of them is copied.
 *
 * Output, one item a line:
 *   compose LAYOUT FIELD...      heads a list of lines WORD NUMBER...
 *   extract LAYOUT FIELD...      heads a list of lines WORD NUMBER...
 *   constant NAME LAYOUT FIELD NUMBER
 * Words are hexadecimal, numbers decimal. Names are those of package vdo.
 *
 * Where the headers of one kernel have no macro for a field, the field stays
 * zero or the item is left out; kernel_test.go says which.
 */
#include <stdio.h>

#include "layouts.h"

static u32 state = 1;

/* xorshift32: the same numbers in every run. */
static u32 any(void)
{
	state ^= state << 13;
	state ^= state >> 17;
	state ^= state << 5;
	return state;
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

/* What the macros make of 300 random words. */
static void extract(const struct extractor *x)
{
	u32 v[MAX_FIELDS];
	int i, n;

	printf("extract %s", x->name);
	for (i = 0; i < MAX_FIELDS && x->field[i]; i++)
		printf(" %s", x->field[i]);
	putchar('\n');
	for (n = 0; n < 300; n++) {
		u32 w = any() & ~x->unknown;

		x->extract(w, v);
		printf("%08x", w);
		for (i = 0; i < MAX_FIELDS && x->field[i]; i++)
			printf(" %u", v[i]);
		putchar('\n');
	}
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

	for (i = 0; i < COUNT(layouts); i++)
		compose(&layouts[i]);
	for (i = 0; i < COUNT(extractors); i++)
		extract(&extractors[i]);
	constants();
	return 0;
}
