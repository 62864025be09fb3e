/**
 * Records of the GDSII Stream Format (Calma, Stream Format Manual, release 6.0, from memory): two bytes of length,
 * one of kind, one of data type, then the data, all big-endian.
 */

export const RECORD = {
  header: 0x0002,
  beginLibrary: 0x0102,
  libraryName: 0x0206,
  units: 0x0305,
  endLibrary: 0x0400,
  beginStructure: 0x0502,
  structureName: 0x0606,
  endStructure: 0x0700,
  boundary: 0x0800,
  structureReference: 0x0a00,
  text: 0x0c00,
  layer: 0x0d02,
  datatype: 0x0e02,
  points: 0x1003,
  endElement: 0x1100,
  referenceName: 0x1206,
  textType: 0x1602,
  presentation: 0x1701,
  string: 0x1906,
  transform: 0x1a01,
  angle: 0x1c05,
} as const;

export interface Stream {
  readonly empty: (kind: number) => void;
  readonly shorts: (kind: number, values: readonly number[]) => void;
  readonly longs: (kind: number, values: readonly number[]) => void;
  readonly reals: (kind: number, values: readonly number[]) => void;
  /** ASCII only; an odd length is filled with a zero byte. */
  readonly ascii: (kind: number, value: string) => void;
  readonly bytes: () => Uint8Array;
}

export function stream(): Stream {
  let bytes = new Uint8Array(4096);
  let view = new DataView(bytes.buffer);
  let at = 0;
  const open = (kind: number, size: number): number => {
    const length = 4 + size;
    if (at + length > bytes.length) {
      const larger = new Uint8Array(Math.max(bytes.length * 2, at + length));
      larger.set(bytes);
      bytes = larger;
      view = new DataView(bytes.buffer);
    }
    view.setUint16(at, length);
    view.setUint16(at + 2, kind);
    const start = at + 4;
    at += length;
    return start;
  };
  return {
    empty: (kind) => {
      open(kind, 0);
    },
    shorts: (kind, values) => {
      const start = open(kind, values.length * 2);
      values.forEach((value, index) => {
        view.setUint16(start + index * 2, value);
      });
    },
    longs: (kind, values) => {
      const start = open(kind, values.length * 4);
      values.forEach((value, index) => {
        view.setInt32(start + index * 4, value);
      });
    },
    reals: (kind, values) => {
      const start = open(kind, values.length * 8);
      values.forEach((value, index) => {
        view.setBigUint64(start + index * 8, real(value));
      });
    },
    ascii: (kind, value) => {
      const start = open(kind, value.length + (value.length % 2));
      for (let i = 0; i < value.length; i++) bytes[start + i] = value.charCodeAt(i);
    },
    bytes: () => bytes.slice(0, at),
  };
}

/**
 * A positive double as GDSII's eight-byte real: an exponent of sixteen in excess of 64 and 56 bits of a fraction
 * from 1/16 to 1. A double's 53 bits always fit, so nothing is rounded.
 */
export function real(value: number): bigint {
  if (value === 0) return 0n;
  let [fraction, exponent] = [value, 64];
  while (fraction >= 1) [fraction, exponent] = [fraction / 16, exponent + 1];
  while (fraction < 1 / 16) [fraction, exponent] = [fraction * 16, exponent - 1];
  return (BigInt(exponent) << 56n) | BigInt(fraction * 2 ** 56);
}
