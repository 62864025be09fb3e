/**
 * Decoupling: the charge that a group of outputs takes in one edge, and the capacitance that gives it away within
 * a budget. Loads are pF, voltages V, charges pC.
 */

export interface SwitchingOutput {
  readonly load: number;
  readonly swing: number;
}

/** The charge in pC of outputs that rise together: the sum of C dV. */
export const switchedCharge = (outputs: readonly SwitchingOutput[]): number =>
  outputs.reduce((sum, { load, swing }) => sum + load * swing, 0);

/** The capacitance in pF that gives a charge in pC away and falls by no more than a budget in V: Q / dV. */
export const capacitanceFor = (charge: number, budget: number): number => charge / budget;
