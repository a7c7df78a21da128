/*
 * Just enough of the kernel's environment to include linux/usb/pd_vdo.h,
 * typec_tbt.h and typec_dp.h in a user program. Written for this test; the
 * macros under test come from the kernel's own headers.
 */
#ifndef STAND_IN_KERNEL_H
#define STAND_IN_KERNEL_H

#include <stdbool.h>
#include <stdint.h>

typedef uint8_t u8;
typedef uint16_t u16;
typedef uint32_t u32;
typedef uint8_t __u8;
typedef uint16_t __le16;
typedef uint32_t __u32, __le32;

#define BIT(n) (UINT32_C(1) << (n))
#define GENMASK(high, low) ((UINT32_C(0xffffffff) >> (31 - (high))) & (UINT32_C(0xffffffff) << (low)))
#define FIELD_GET(mask, word) (((word) & (mask)) / ((mask) & ~((mask) - 1)))
#define __packed __attribute__((packed))
#define IS_ENABLED(option) 1 /* leaves pd.h to declare its functions, not define them */

/* pd.h and the others name these in places that this test does not use. */
#define cpu_to_le16(x) (x)
#define cpu_to_le32(x) (x)
#define le16_to_cpu(x) (x)
#define le32_to_cpu(x) (x)
enum typec_role { TYPEC_SINK, TYPEC_SOURCE };
enum { TYPEC_DEVICE, TYPEC_HOST, TYPEC_STATE_MODAL };
struct device;

#endif
