/** Places the drivers' boxes under the ways in that they feed, and the words beside them. */
import { figure } from '../figures';
import type { FeedMark } from '../generated/types';
import { textWidth } from './labels';

export interface FeedBox {
  feed: FeedMark;
  text: string;
  /** The way in [px]. */
  x: number;
  left: number;
  width: number;
  /** The words beside the box, and where they start or end; absent where there is no room. */
  words: { x: number; anchor: 'start' | 'end'; lines: string[] } | null;
}

const GAP = 10;

/** The words in a driver's box. */
export function boxText(feed: FeedMark): string {
  return `${feed.driver} · ${figure(feed.load)} of ${figure(feed.rated)}`;
}

/** Boxes from left to right, moved apart as little as needed between two edges [px]. */
export function placeFeeds(feeds: { feed: FeedMark; x: number }[], from: number, to: number): FeedBox[] {
  const sorted = [...feeds].sort((a, b) => a.x - b.x);
  const boxes: FeedBox[] = sorted.map(({ feed, x }) => {
    const text = boxText(feed);
    const width = textWidth(text, 13) + 20;
    return { feed, text, x, width, left: x - width / 2, words: null };
  });
  let edge = from;
  for (const box of boxes) {
    box.left = Math.max(box.left, edge);
    edge = box.left + box.width + GAP;
  }
  edge = to;
  for (const box of [...boxes].reverse()) {
    box.left = Math.min(box.left, edge - box.width);
    edge = box.left - GAP;
  }
  let taken = from;
  boxes.forEach((box, index) => {
    const next = boxes[index + 1]?.left ?? to;
    const right = box.left + box.width;
    const also = box.feed.also_serves.length > 0 ? ` · also serves ${box.feed.also_serves.join(', ')}` : '';
    const [leads, mains] = [box.feed.leads_text + also, box.feed.mains_text];
    // Both lines if they fit on either side, else the leads alone, else neither.
    for (const lines of [[leads, mains], [leads]]) {
      const said = lines.filter((line) => line !== '');
      const room = Math.max(0, ...said.map((line) => textWidth(line)));
      if (said.length === 0) break;
      if (right + 8 + room <= next - GAP) box.words = { x: right + 8, anchor: 'start', lines: said };
      else if (box.left - 8 - room >= taken) box.words = { x: box.left - 8, anchor: 'end', lines: said };
      if (box.words !== null) break;
    }
    const said = box.words?.anchor === 'start' ? Math.max(...box.words.lines.map((line) => textWidth(line))) + 8 : 0;
    taken = right + said + GAP;
  });
  return boxes;
}
