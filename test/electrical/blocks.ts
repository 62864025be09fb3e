/**
 * What the three demonstrations are asked to carry in these tests: invented figures, tight enough that some supplies are
 * missing before `auto` sets them.
 */

const range = (stem: string, count: number): string =>
  Array.from({ length: count }, (_, i) => `${stem}${i}`).join(', ');

export const TIDE_GAUGE = `electrical:
  celsius: 80
  core: {vdd: 85, avdd: 12}
  outputs:
    card: {pins: [SD_CLK, SD_CMD, SD_D0, SD_D1, SD_D2, SD_D3], current: 1.5, load: 20, swing: 3.3, edge: 2.5}
    flash: {pins: [FLASH_SCK, FLASH_CS_N, FLASH_D0, FLASH_D1], current: 1, load: 12, swing: 3.3, edge: 2}
    radio: {pins: [RADIO_SCK, RADIO_MOSI, RADIO_CS_N], current: 0.5, load: 12, swing: 3.3, edge: 3}
    lamp: {pins: [LED_ALARM], current: 8}
  together: [[card, flash]]
  noise: {digital: 0.16}
  drop: {vdd: 0.03, avdd: 0.03, vddio: 0.05, avddio: 0.02, vss: 0.03, vssio: 0.05, avssio: 0.02}
  discharge: {level: 2000, rail: 4, path: 14}
  decoupling: {chip: 0.3, package: 0.1}
  supplies: SUPPLIES
`;

export const FROST_HUB = `electrical:
  celsius: 100
  core: {vdd: 90, avdd: 30}
  outputs:
    valves: {pins: [${range('VALVE_', 16)}], current: 2.5, load: 40, swing: 3.3, edge: 6}
    fans: {pins: [${range('FAN_', 4)}, IGNITER], current: 6}
  noise: {valves: 0.18}
  drop: 0.05
  discharge: {level: 2000, rail: 12, path: 20}
  supplies: SUPPLIES
`;

export const LAMP_CONTROLLER = `electrical:
  celsius: 100
  core: {vdd: 400}
  outputs:
    red: {pins: [${range('RED_', 20)}], current: 1, slope: 3}
    green: {pins: [${range('GREEN_', 20)}], current: 1, slope: 3}
    blue: {pins: [${range('BLUE_', 20)}], current: 1, slope: 3}
    white: {pins: [${range('WHITE_', 20)}], current: 1, slope: 3}
  noise: {drive: 0.098}
  drop: {vdd: 0.06, vss: 0.06}
  discharge: {level: 1000, path: 20}
  supplies: SUPPLIES
`;
