//! Reads JSON (RFC 8259) into a tree with places, keeping numbers as written and finding names given twice.

use super::limits::{GREATEST_DEPTH, GREATEST_VALUES};
use super::tree::{Entry, Node, Path, Place, Step, Value};
use crate::read::gather::Gather;

/// Reads a whole document; what keeps it from being read, and every name given twice, goes into `gather`.
pub fn read(text: &str, gather: &mut Gather) -> Option<Node> {
    let mut reader = Reader { text, at: 0, place: Place { line: 1, column: 1 }, values: 0, path: Path::new(), gather };
    reader.skip_blank();
    let root = reader.value(0).ok()?;
    reader.skip_blank();
    if reader.peek().is_some() {
        reader.stop("text after the end of the document", "one JSON value and nothing after it");
        return None;
    }
    Some(root)
}

/// Reading can't go on; the reason is in the list.
struct Stopped;

type Read<T> = Result<T, Stopped>;

struct Reader<'a> {
    text: &'a str,
    at: usize,
    place: Place,
    values: usize,
    path: Path,
    gather: &'a mut Gather,
}

impl Reader<'_> {
    fn peek(&self) -> Option<char> {
        self.text[self.at..].chars().next()
    }

    fn next(&mut self) -> Option<char> {
        let c = self.peek()?;
        self.at += c.len_utf8();
        if c == '\n' {
            self.place = Place { line: self.place.line + 1, column: 1 };
        } else {
            self.place.column += 1;
        }
        Some(c)
    }

    fn skip_blank(&mut self) {
        while matches!(self.peek(), Some(' ' | '\t' | '\n' | '\r')) {
            self.next();
        }
    }

    fn stop(&mut self, matter: &str, accepted: &str) -> Stopped {
        let path = self.path.clone();
        self.gather.add(&path, self.place, String::new(), matter.to_owned(), accepted.to_owned());
        Stopped
    }

    /// Stops at a character that doesn't belong here.
    fn unexpected(&mut self, accepted: &str) -> Stopped {
        match self.peek() {
            Some(c) => self.stop(&format!("not JSON: {c:?} stands here"), accepted),
            None => self.stop("not JSON: the file ends here", accepted),
        }
    }

    fn value(&mut self, depth: usize) -> Read<Node> {
        if depth > GREATEST_DEPTH {
            return Err(self.stop("lists and tables stand too deep in each other", "a depth of at most 64"));
        }
        self.values += 1;
        if self.values > GREATEST_VALUES {
            return Err(self.stop("too many values", "at most 2000000 values in a file"));
        }
        let place = self.place;
        let value = match self.peek() {
            Some('{') => self.table(depth)?,
            Some('[') => self.list(depth)?,
            Some('"') => Value::Text(self.string()?),
            Some('-' | '0'..='9') => self.number()?,
            _ => self.word()?,
        };
        Ok(Node { place, value })
    }

    fn word(&mut self) -> Read<Value> {
        for (word, value) in [("null", Value::Null), ("true", Value::Bool(true)), ("false", Value::Bool(false))] {
            if self.text[self.at..].starts_with(word) {
                word.chars().for_each(|_| {
                    self.next();
                });
                return Ok(value);
            }
        }
        Err(self.unexpected("a value: a text in quotes, a finite number, true, false, null, [ or {"))
    }

    fn table(&mut self, depth: usize) -> Read<Value> {
        self.next();
        self.skip_blank();
        let mut entries: Vec<Entry> = Vec::new();
        let mut names = std::collections::BTreeMap::new();
        if self.peek() == Some('}') {
            self.next();
            return Ok(Value::Table(entries));
        }
        loop {
            self.skip_blank();
            let place = self.place;
            if self.peek() != Some('"') {
                return Err(self.unexpected("a field name in quotes"));
            }
            let name = self.string()?;
            self.skip_blank();
            if self.peek() != Some(':') {
                return Err(self.unexpected("\":\" after a field name"));
            }
            self.next();
            self.skip_blank();
            self.path.push(Step::Name(name.clone()));
            let first: Option<&Place> = names.get(&name);
            if let Some(first) = first {
                let matter = format!("is given twice, first in line {}", first.line);
                let path = self.path.clone();
                self.gather.add(&path, place, String::new(), matter, "each field name once".to_owned());
            }
            let node = self.value(depth + 1)?;
            self.path.pop();
            if let std::collections::btree_map::Entry::Vacant(vacant) = names.entry(name.clone()) {
                vacant.insert(place);
                entries.push(Entry { name, place, node });
            }
            self.skip_blank();
            match self.peek() {
                Some(',') => self.next(),
                Some('}') => break,
                _ => return Err(self.unexpected("\",\" or \"}\" after a field")),
            };
        }
        self.next();
        Ok(Value::Table(entries))
    }

    fn list(&mut self, depth: usize) -> Read<Value> {
        self.next();
        self.skip_blank();
        let mut items = Vec::new();
        if self.peek() == Some(']') {
            self.next();
            return Ok(Value::List(items));
        }
        loop {
            self.skip_blank();
            self.path.push(Step::Index(items.len()));
            items.push(self.value(depth + 1)?);
            self.path.pop();
            self.skip_blank();
            match self.peek() {
                Some(',') => self.next(),
                Some(']') => break,
                _ => return Err(self.unexpected("\",\" or \"]\" after an item")),
            };
        }
        self.next();
        Ok(Value::List(items))
    }

    fn number(&mut self) -> Read<Value> {
        let start = self.at;
        if self.peek() == Some('-') {
            self.next();
        }
        let whole = self.digits()?;
        if whole > 1 && self.text[start..].trim_start_matches('-').starts_with('0') {
            return Err(self.stop("not JSON: a number starts with 0", "a number without leading zeros"));
        }
        if self.peek() == Some('.') {
            self.next();
            self.digits()?;
        }
        if matches!(self.peek(), Some('e' | 'E')) {
            self.next();
            if matches!(self.peek(), Some('+' | '-')) {
                self.next();
            }
            self.digits()?;
        }
        let raw = self.text[start..self.at].to_owned();
        // The grammar above is narrower than what the standard reader takes, so this always reads.
        let value = raw.parse().unwrap_or(f64::NAN);
        Ok(Value::Number { raw, value })
    }

    fn digits(&mut self) -> Read<usize> {
        let start = self.at;
        while matches!(self.peek(), Some('0'..='9')) {
            self.next();
        }
        if self.at == start { Err(self.unexpected("a digit")) } else { Ok(self.at - start) }
    }

    fn string(&mut self) -> Read<String> {
        self.next();
        let mut text = String::new();
        loop {
            match self.peek() {
                Some('"') => {
                    self.next();
                    return Ok(text);
                }
                Some('\\') => {
                    self.next();
                    text.push(self.escape()?);
                }
                Some(c) if c >= ' ' => {
                    self.next();
                    text.push(c);
                }
                Some(_) => return Err(self.unexpected("control characters written as \\n, \\t or \\u00XX")),
                None => return Err(self.unexpected("a closing quote")),
            }
        }
    }

    fn escape(&mut self) -> Read<char> {
        let c = match self.peek() {
            Some(c @ ('"' | '\\' | '/')) => c,
            Some('b') => '\u{8}',
            Some('f') => '\u{c}',
            Some('n') => '\n',
            Some('r') => '\r',
            Some('t') => '\t',
            Some('u') => {
                self.next();
                return self.unicode();
            }
            _ => return Err(self.unexpected("one of \" \\ / b f n r t u after a backslash")),
        };
        self.next();
        Ok(c)
    }

    fn unicode(&mut self) -> Read<char> {
        let first = self.four_digits()?;
        if let Some(c) = char::from_u32(first) {
            return Ok(c);
        }
        // Half a pair: the other half has to follow.
        if (0xd800..0xdc00).contains(&first) && self.text[self.at..].starts_with("\\u") {
            self.next();
            self.next();
            let second = self.four_digits()?;
            if (0xdc00..0xe000).contains(&second)
                && let Some(c) = char::from_u32(0x1_0000 + ((first - 0xd800) << 10) + (second - 0xdc00))
            {
                return Ok(c);
            }
        }
        Err(self.stop("not JSON: half a surrogate pair", "characters, or whole surrogate pairs"))
    }

    fn four_digits(&mut self) -> Read<u32> {
        let mut code = 0;
        for _ in 0..4 {
            let Some(digit) = self.peek().and_then(|c| c.to_digit(16)) else {
                return Err(self.unexpected("four hexadecimal digits"));
            };
            self.next();
            code = code * 16 + digit;
        }
        Ok(code)
    }
}
