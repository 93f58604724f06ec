import { describe, expect, it } from 'vitest';
import { BackendError } from '../backend/backend';
import { FakeProgram } from './fake';
import { WindowSession } from './window.svelte';

async function open(): Promise<[FakeProgram, WindowSession]> {
  const program = new FakeProgram();
  const session = new WindowSession(program.backend());
  await session.openSite('a');
  return [program, session];
}

describe('a stage that shows each answer itself', () => {
  it('is answered, and the window shows the same and says that it is saved', async () => {
    const [, session] = await open();
    const answer = session.stage.edit([]);
    expect(session.kept).toBe('keeping');
    expect((await answer).said).toBe('edit done');
    expect(session.opened?.said).toBe('edit done');
    expect(session.kept).toBe('kept');
  });
  it('is refused with the reason, and the window denies that it is saved', async () => {
    const [program, session] = await open();
    program.refuses = 'the disk is full';
    await expect(session.stage.edit([])).rejects.toBeInstanceOf(BackendError);
    expect(session.kept).toBe('failed');
    expect(session.refusal?.message).toBe('the disk is full');
  });
  it('has its changes made in their order', async () => {
    const [program, session] = await open();
    await Promise.all([session.stage.edit([]), session.stage.undo(), session.redo()]);
    expect(program.calls.map((call) => call[0]).slice(1)).toEqual(['edit', 'undo', 'redo']);
  });
});
