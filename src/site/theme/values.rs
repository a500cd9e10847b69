//! Views as values of the template engine.
//!
//! The engine could do this by itself; it then looks up every field of every row by its name. A page has many rows of
//! few kinds, so here the first of a kind says which fields there are and where, and the others are filled in by place.

use serde::Serialize;
use serde::ser::{self, Serializer};
use std::fmt;
use tera::value::Key;
use tera::{Map, Value};

/// Name by which a view says that a text is HTML already.
pub const SAFE: &str = "$safe";

/// Why a view is no value.
#[derive(Debug)]
pub struct Unfit(String);

impl fmt::Display for Unfit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for Unfit {}

impl ser::Error for Unfit {
    fn custom<T: fmt::Display>(message: T) -> Self {
        Self(message.to_string())
    }
}

/// The kinds of rows that pages have: names and numbers of fields, and of each a row with all fields and nothing in them.
#[derive(Debug, Default)]
pub struct Kinds {
    names: Vec<(&'static str, usize)>,
    rows: Vec<Map>,
}

impl Kinds {
    /// A view as a value.
    ///
    /// # Errors
    /// It has a key that is no text, or says itself that it cannot be told.
    pub fn value<T: Serialize + ?Sized>(&mut self, view: &T) -> Result<Value, Unfit> {
        view.serialize(self)
    }

    fn place(&self, name: &'static str, fields: usize) -> Option<usize> {
        self.names.iter().position(|known| *known == (name, fields))
    }

    /// An empty row, where such a one has been seen before.
    fn row(&self, name: &'static str, fields: usize) -> Option<Map> {
        self.place(name, fields).and_then(|at| self.rows.get(at)).cloned()
    }

    /// Of two kinds that share a name and a number of fields, as variants may, the last is known.
    fn learn(&mut self, name: &'static str, row: &Map) {
        let mut empty = row.clone();
        empty.values_mut().for_each(|value| *value = Value::none());
        match self.place(name, row.len()).and_then(|at| self.rows.get_mut(at)) {
            Some(known) => *known = empty,
            None => {
                self.names.push((name, row.len()));
                self.rows.push(empty);
            }
        }
    }
}

impl<'k> Serializer for &'k mut Kinds {
    type Ok = Value;
    type Error = Unfit;
    type SerializeSeq = List<'k>;
    type SerializeTuple = List<'k>;
    type SerializeTupleStruct = List<'k>;
    type SerializeTupleVariant = Variant<List<'k>>;
    type SerializeMap = Pairs<'k>;
    type SerializeStruct = Row<'k>;
    type SerializeStructVariant = Variant<Row<'k>>;

    fn serialize_bool(self, value: bool) -> Result<Value, Unfit> {
        Ok(Value::from(value))
    }

    fn serialize_i8(self, value: i8) -> Result<Value, Unfit> {
        Ok(Value::from(value))
    }

    fn serialize_i16(self, value: i16) -> Result<Value, Unfit> {
        Ok(Value::from(value))
    }

    fn serialize_i32(self, value: i32) -> Result<Value, Unfit> {
        Ok(Value::from(value))
    }

    fn serialize_i64(self, value: i64) -> Result<Value, Unfit> {
        Ok(Value::from(value))
    }

    fn serialize_u8(self, value: u8) -> Result<Value, Unfit> {
        Ok(Value::from(value))
    }

    fn serialize_u16(self, value: u16) -> Result<Value, Unfit> {
        Ok(Value::from(value))
    }

    fn serialize_u32(self, value: u32) -> Result<Value, Unfit> {
        Ok(Value::from(value))
    }

    fn serialize_u64(self, value: u64) -> Result<Value, Unfit> {
        Ok(Value::from(value))
    }

    fn serialize_f32(self, value: f32) -> Result<Value, Unfit> {
        Ok(Value::from(value))
    }

    fn serialize_f64(self, value: f64) -> Result<Value, Unfit> {
        Ok(Value::from(value))
    }

    fn serialize_char(self, value: char) -> Result<Value, Unfit> {
        Ok(Value::from(value))
    }

    fn serialize_str(self, value: &str) -> Result<Value, Unfit> {
        Ok(Value::normal_string(value))
    }

    fn serialize_bytes(self, value: &[u8]) -> Result<Value, Unfit> {
        Ok(Value::bytes(value))
    }

    fn serialize_none(self) -> Result<Value, Unfit> {
        Ok(Value::none())
    }

    fn serialize_some<T: Serialize + ?Sized>(self, value: &T) -> Result<Value, Unfit> {
        value.serialize(self)
    }

    fn serialize_unit(self) -> Result<Value, Unfit> {
        Ok(Value::none())
    }

    fn serialize_unit_struct(self, _name: &'static str) -> Result<Value, Unfit> {
        Ok(Value::none())
    }

    fn serialize_unit_variant(self, _name: &'static str, _index: u32, variant: &'static str) -> Result<Value, Unfit> {
        Ok(Value::normal_string(variant))
    }

    fn serialize_newtype_struct<T: Serialize + ?Sized>(self, name: &'static str, value: &T) -> Result<Value, Unfit> {
        let value = value.serialize(self)?;
        Ok(if name == SAFE { value.mark_safe() } else { value })
    }

    fn serialize_newtype_variant<T: Serialize + ?Sized>(
        self,
        _name: &'static str,
        _index: u32,
        variant: &'static str,
        value: &T,
    ) -> Result<Value, Unfit> {
        Ok(named(variant, value.serialize(self)?))
    }

    fn serialize_seq(self, len: Option<usize>) -> Result<List<'k>, Unfit> {
        Ok(List { kinds: self, values: Vec::with_capacity(len.unwrap_or(0)) })
    }

    fn serialize_tuple(self, len: usize) -> Result<List<'k>, Unfit> {
        self.serialize_seq(Some(len))
    }

    fn serialize_tuple_struct(self, _name: &'static str, len: usize) -> Result<List<'k>, Unfit> {
        self.serialize_seq(Some(len))
    }

    fn serialize_tuple_variant(
        self,
        _name: &'static str,
        _index: u32,
        variant: &'static str,
        len: usize,
    ) -> Result<Variant<List<'k>>, Unfit> {
        Ok(Variant { variant, holds: self.serialize_seq(Some(len))? })
    }

    fn serialize_map(self, len: Option<usize>) -> Result<Pairs<'k>, Unfit> {
        Ok(Pairs { kinds: self, map: Map::with_capacity(len.unwrap_or(0)), key: None })
    }

    fn serialize_struct(self, name: &'static str, len: usize) -> Result<Row<'k>, Unfit> {
        let known = self.row(name, len);
        Ok(Row { name, is_new: known.is_none(), map: known.unwrap_or_else(|| Map::with_capacity(len)), at: 0, kinds: self })
    }

    fn serialize_struct_variant(
        self,
        _name: &'static str,
        _index: u32,
        variant: &'static str,
        len: usize,
    ) -> Result<Variant<Row<'k>>, Unfit> {
        // By the name of the variant: that of the whole has as many kinds of fields as it has variants.
        Ok(Variant { variant, holds: self.serialize_struct(variant, len)? })
    }
}

fn named(name: &'static str, value: Value) -> Value {
    Value::from(Map::from_iter([(Key::Str(name), value)]))
}

/// A list that is being filled.
pub struct List<'k> {
    kinds: &'k mut Kinds,
    values: Vec<Value>,
}

impl List<'_> {
    fn push<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Unfit> {
        self.values.push(value.serialize(&mut *self.kinds)?);
        Ok(())
    }
}

impl ser::SerializeSeq for List<'_> {
    type Ok = Value;
    type Error = Unfit;

    fn serialize_element<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Unfit> {
        self.push(value)
    }

    fn end(self) -> Result<Value, Unfit> {
        Ok(Value::from(self.values))
    }
}

impl ser::SerializeTuple for List<'_> {
    type Ok = Value;
    type Error = Unfit;

    fn serialize_element<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Unfit> {
        self.push(value)
    }

    fn end(self) -> Result<Value, Unfit> {
        Ok(Value::from(self.values))
    }
}

impl ser::SerializeTupleStruct for List<'_> {
    type Ok = Value;
    type Error = Unfit;

    fn serialize_field<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Unfit> {
        self.push(value)
    }

    fn end(self) -> Result<Value, Unfit> {
        Ok(Value::from(self.values))
    }
}

/// A map of any length that is being filled.
pub struct Pairs<'k> {
    kinds: &'k mut Kinds,
    map: Map,
    key: Option<Key<'static>>,
}

impl ser::SerializeMap for Pairs<'_> {
    type Ok = Value;
    type Error = Unfit;

    fn serialize_key<T: Serialize + ?Sized>(&mut self, key: &T) -> Result<(), Unfit> {
        let key = key.serialize(&mut *self.kinds)?;
        let text = key.as_str().ok_or_else(|| Unfit("a key that is no text".to_owned()))?;
        self.key = Some(Key::String(text.into()));
        Ok(())
    }

    fn serialize_value<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Unfit> {
        let key = self.key.take().ok_or_else(|| Unfit("a value without a key".to_owned()))?;
        self.map.insert(key, value.serialize(&mut *self.kinds)?);
        Ok(())
    }

    fn end(self) -> Result<Value, Unfit> {
        Ok(Value::from(self.map))
    }
}

/// A row that is being filled, field by field in the order in which its kind has them.
pub struct Row<'k> {
    kinds: &'k mut Kinds,
    name: &'static str,
    map: Map,
    at: usize,
    /// The first of its kind.
    is_new: bool,
}

impl ser::SerializeStruct for Row<'_> {
    type Ok = Value;
    type Error = Unfit;

    fn serialize_field<T: Serialize + ?Sized>(&mut self, key: &'static str, value: &T) -> Result<(), Unfit> {
        let value = value.serialize(&mut *self.kinds)?;
        if !self.is_new {
            if let Some((Key::Str(known), place)) = self.map.get_index_mut(self.at)
                && *known == key
            {
                *place = value;
                self.at += 1;
                return Ok(());
            }
            // Another kind of the same name: what is filled in so far stays.
            self.map.truncate(self.at);
            self.is_new = true;
        }
        self.map.insert(Key::Str(key), value);
        self.at += 1;
        Ok(())
    }

    fn end(mut self) -> Result<Value, Unfit> {
        if self.is_new {
            self.kinds.learn(self.name, &self.map);
        } else {
            self.map.truncate(self.at);
        }
        Ok(Value::from(self.map))
    }
}

/// One of several things, under the name of which it is.
pub struct Variant<H> {
    variant: &'static str,
    holds: H,
}

impl ser::SerializeTupleVariant for Variant<List<'_>> {
    type Ok = Value;
    type Error = Unfit;

    fn serialize_field<T: Serialize + ?Sized>(&mut self, value: &T) -> Result<(), Unfit> {
        self.holds.push(value)
    }

    fn end(self) -> Result<Value, Unfit> {
        Ok(named(self.variant, Value::from(self.holds.values)))
    }
}

impl ser::SerializeStructVariant for Variant<Row<'_>> {
    type Ok = Value;
    type Error = Unfit;

    fn serialize_field<T: Serialize + ?Sized>(&mut self, key: &'static str, value: &T) -> Result<(), Unfit> {
        ser::SerializeStruct::serialize_field(&mut self.holds, key, value)
    }

    fn end(self) -> Result<Value, Unfit> {
        Ok(named(self.variant, ser::SerializeStruct::end(self.holds)?))
    }
}

#[cfg(test)]
mod tests {
    use super::Kinds;
    use crate::site::view::Html;
    use serde::Serialize;
    use std::collections::BTreeMap;
    use tera::Value;

    #[derive(Serialize)]
    struct Row {
        text: &'static str,
        more: Option<u8>,
        inner: Vec<Row>,
    }

    #[derive(Serialize)]
    #[serde(tag = "kind", rename_all = "lowercase")]
    enum Block {
        One { a: u8 },
        Two { b: &'static str },
    }

    #[derive(Serialize)]
    #[serde(tag = "kind", content = "rows")]
    enum Rows {
        Links(Vec<u8>),
    }

    #[derive(Serialize)]
    enum Plain {
        Unit,
        Held(u8),
        Pair(u8, u8),
        Named { a: i64 },
    }

    #[track_caller]
    fn as_the_engine_does(view: &impl Serialize) {
        let mut kinds = Kinds::default();
        // The second time all kinds are known.
        for _ in 0..2 {
            let told = kinds.value(view).expect("told");
            assert_eq!(told, Value::from_serializable(view));
            assert_eq!(told.to_string(), Value::from_serializable(view).to_string());
        }
    }

    #[test]
    fn a_view_is_what_the_engine_would_make_of_it() {
        let row = |text, more, inner| Row { text, more, inner };
        as_the_engine_does(&[row("a", None, vec![row("b", Some(1), vec![])]), row("c", Some(2), vec![]), row("d", None, vec![])]);
        as_the_engine_does(&[Block::One { a: 1 }, Block::Two { b: "x" }, Block::One { a: 2 }, Block::Two { b: "y" }]);
        as_the_engine_does(&Rows::Links(vec![1, 2]));
        as_the_engine_does(&[Plain::Unit, Plain::Held(1), Plain::Pair(1, 2), Plain::Named { a: -3 }]);
        as_the_engine_does(&BTreeMap::from([("k", (1u64, -2i64, true, 'c', 0.5f64))]));
    }

    #[test]
    fn only_html_is_safe() {
        let mut kinds = Kinds::default();
        assert!(kinds.value(&Html("<p>".to_owned())).expect("told").is_safe());
        assert!(!kinds.value("<p>").expect("told").is_safe());
    }
}
