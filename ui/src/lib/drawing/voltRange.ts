/** The part of the volts axis that tells something about a rail. */
import type { ChainLine, VoltLimit, VoltPoint } from '../generated/types';

export interface VoltRange {
  least: number;
  greatest: number;
}

/** From a little under the governing limit, or the lowest luminaire if lower, to a little over the highest. */
export function voltRange(chains: ChainLine[], limits: VoltLimit[]): VoltRange | null {
  const seen = chains.flatMap((chain) => chain.points.map((point) => point.volts));
  if (seen.length === 0) return null;
  const governing = limits.filter((limit) => limit.governs).map((limit) => limit.volts);
  const low = Math.min(...seen, ...governing);
  const high = Math.max(...seen, ...governing);
  const span = Math.max(high - low, 0.1);
  return { least: low - 0.22 * span, greatest: high + 0.12 * span };
}

/** The luminaire that gets least. */
export function lowestPoint(chains: ChainLine[]): VoltPoint | null {
  let lowest: VoltPoint | null = null;
  for (const chain of chains)
    for (const point of chain.points) if (lowest === null || point.volts < lowest.volts) lowest = point;
  return lowest;
}

/** The points of a chain by channel, each in order of chainage, so that each makes one line. */
export function channelLines(chain: ChainLine): VoltPoint[][] {
  const lines = new Map<string, VoltPoint[]>();
  for (const point of chain.points) lines.set(point.channel, [...(lines.get(point.channel) ?? []), point]);
  return [...lines.values()].map((points) => points.sort((a, b) => a.chainage_mm - b.chainage_mm));
}
