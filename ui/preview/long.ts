/** A rail of 200 m with 660 features, to see whether the drawing keeps up. */
import type { Feature, Rail } from '../src/lib/generated/survey';

export function longRail(like: Rail): Rail {
  const taped = (value_mm: number) => ({ value_mm, instrument: { kind: 'laser' as const }, tolerance_mm: null });
  const common = (id: string, at: number) => ({
    id,
    label: '',
    chainage_mm: taped(at),
    keep_clear_mm: null,
    bore: at < 120000 ? { kind: 'proved' as const, how: 'draw_wire' as const, widest_mm: 16 } : { kind: 'unknown' as const },
    note: '',
  });
  const features = Array.from({ length: 660 }, (_, index): Feature => {
    const at = 150 + index * 302;
    const id = `long-${index}`;
    if (index % 20 === 7) return { ...common(id, at), kind: 'joint', made: 'welded', width_mm: 6 };
    if (index % 110 === 50) return { ...common(id, at), kind: 'way_in', opening_mm: 18, post: null };
    return { ...common(id, at), kind: 'post', width_mm: 40, meets: { kind: 'welded_below' }, into_post: { kind: 'unknown' } };
  });
  return {
    ...like,
    id: 'long',
    label: 'Promenade, 200 m',
    pieces: [{ kind: 'straight', id: 'long-run', length_mm: taped(200000), slope_deg: 0, mark: null }],
    overall_mm: taped(200004),
    features,
    sketch: { start: { x_mm: -60000, y_mm: 90000, z_mm: 0, measured: false }, bearing_deg: 80 },
  };
}
