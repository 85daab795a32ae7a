import { render } from 'preact';

const root = document.getElementById('desk');
if (!root) throw new Error('The page has no place for the desk.');
render(<h1>Wareboard</h1>, root);
