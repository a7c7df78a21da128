package frame

// The CRC-32 of PD: the polynomial of Ethernet, started at all ones, complemented
// at the end. Bits enter least significant first, so the register is reflected.
const (
	crcPolynomial = 0xEDB88320 // 0x04C11DB7, reflected
	crcInitial    = 0xFFFFFFFF
	crcFinal      = 0xFFFFFFFF // exclusive or
)

// Checksum is the CRC-32 over the bytes of header and objects. A message carries
// it as four bytes, low byte first.
func Checksum(b []byte) uint32 {
	crc := uint32(crcInitial)
	for _, v := range b {
		crc ^= uint32(v)
		for range 8 {
			crc = crc>>1 ^ crcPolynomial&-(crc&1)
		}
	}
	return crc ^ crcFinal
}
