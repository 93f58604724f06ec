requestAnimationFrame(() => performance.measure('shown', { start: 0, end: performance.now() }));
