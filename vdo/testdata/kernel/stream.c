/*
 * Decodes a stream of replies with the macros of the Linux kernel's headers, for
 * a Go benchmark to hold package vdo against. The headers are included, nothing
 * of them is copied; fields they have no macro for are taken as the headers take
 * theirs, by shift and mask.
 *
 * Reads from stdin: the number of replies, then for each its length and its
 * words, all 32 bits in the machine's order. The argument is the number of
 * passes. Prints a checksum of all fields, which the Go side must come to as
 * well, and the time of the fastest pass in ns.
 */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include <linux/usb/pd_vdo.h>

#ifndef VDO_TYPEC_CABLE_SPEED /* Linux 6.1 */
#define VDO_TYPEC_CABLE_SPEED(vdo) ((vdo) & 0x7)
#define VDO_INDEX_CABLE_1 4
#define VDO_INDEX_CABLE_2 5
#endif
#define BITS(vdo, low, mask) (((vdo) >> (low)) & (mask))

struct reply {
	const u32 *vdo;
	u32 count;
};

typedef uint64_t u64;

static u64 fields(const struct reply *r)
{
	const u32 *vdo = r->vdo;
	u32 cable, second = 0;
	u64 sum;

	if (r->count <= VDO_INDEX_PRODUCT || !PD_VDO_SVDM(vdo[VDO_INDEX_HDR]) ||
	    PD_VDO_VID(vdo[VDO_INDEX_HDR]) != USB_SID_PD || PD_VDO_CMD(vdo[VDO_INDEX_HDR]) != CMD_DISCOVER_IDENT ||
	    PD_VDO_CMDT(vdo[VDO_INDEX_HDR]) != CMDT_RSP_ACK)
		return 0;
	sum = PD_IDH_VID(vdo[VDO_INDEX_IDH]) + !!PD_IDH_MODAL_SUPP(vdo[VDO_INDEX_IDH]) +
	      (u64)PD_CSTAT_XID(vdo[VDO_INDEX_CSTAT]) + PD_PRODUCT_PID(vdo[VDO_INDEX_PRODUCT]);
	if (r->count <= VDO_INDEX_CABLE_1)
		return sum;
	cable = vdo[VDO_INDEX_CABLE_1];

	if (PD_VDO_SVDM_VER(vdo[VDO_INDEX_HDR]) == 0) {
		switch (PD_IDH_PTYPE(vdo[VDO_INDEX_IDH])) {
		case IDH_PTYPE_PCABLE:
		case IDH_PTYPE_ACABLE:
			return sum + 3 * VDO_TYPEC_CABLE_TYPE(cable) + 5 * VDO_TYPEC_CABLE_SPEED(cable) +
			       7 * BITS(cable, 5, 0x3) + 11 * BITS(cable, 13, 0xf) + 13 * BITS(cable, 11, 0x3);
		}
		return sum;
	}
	switch (PD_IDH_PTYPE(vdo[VDO_INDEX_IDH])) {
	case IDH_PTYPE_PCABLE:
		return sum + 3 * VDO_TYPEC_CABLE_TYPE(cable) + 5 * VDO_TYPEC_CABLE_SPEED(cable) +
		       7 * BITS(cable, 5, 0x3) + 11 * BITS(cable, 13, 0xf) + 13 * BITS(cable, 11, 0x3) +
		       17 * BITS(cable, 9, 0x3) + 19 * BITS(cable, 17, 0x1);
	case IDH_PTYPE_ACABLE:
		if (r->count > VDO_INDEX_CABLE_2)
			second = vdo[VDO_INDEX_CABLE_2];
		return sum + 3 * VDO_TYPEC_CABLE_TYPE(cable) + 5 * VDO_TYPEC_CABLE_SPEED(cable) +
		       7 * BITS(cable, 5, 0x3) + 11 * BITS(cable, 13, 0xf) + 13 * BITS(cable, 11, 0x3) +
		       17 * BITS(cable, 9, 0x3) + 23 * BITS(second, 10, 0x1) + 29 * BITS(second, 24, 0xff);
	case IDH_PTYPE_VPD:
		/* In amperes, and in milliohms. */
		return sum + 3 * BITS(cable, 0, 0x1) + 5 * (3 + 2 * BITS(cable, 14, 0x1)) +
		       7 * 2 * BITS(cable, 7, 0x3f) + 11 * BITS(cable, 1, 0x3f);
	}
	return sum;
}

static u64 now(void)
{
	struct timespec t;

	clock_gettime(CLOCK_MONOTONIC, &t);
	return (u64)t.tv_sec * 1000000000 + t.tv_nsec;
}

static u32 *input(size_t n)
{
	u32 *p = malloc(n * sizeof(*p) + 1);

	if (!p || fread(p, sizeof(*p), n, stdin) != n) {
		fputs("the input ends early\n", stderr);
		exit(1);
	}
	return p;
}

int main(int argc, char **argv)
{
	u64 sum = 0, best = UINT64_MAX;
	struct reply *replies;
	u32 i, count;
	long pass, passes = argc > 1 ? atol(argv[1]) : 1;

	count = *input(1);
	replies = calloc(count, sizeof(*replies));
	if (!replies)
		return 1;
	for (i = 0; i < count; i++) {
		replies[i].count = *input(1);
		replies[i].vdo = input(replies[i].count);
	}
	for (pass = 0; pass < passes; pass++) {
		u64 took, from = now();

		sum = 0;
		for (i = 0; i < count; i++)
			sum += fields(&replies[i]);
		/* The compiler may not carry a result over from one pass to the next. */
		__asm__ volatile("" : "+r"(sum) : : "memory");
		took = now() - from;
		if (took < best)
			best = took;
	}
	printf("%llu %llu\n", (unsigned long long)sum, (unsigned long long)best);
	return 0;
}
