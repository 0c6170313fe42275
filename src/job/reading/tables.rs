//! The declaration of tables, from which their reading and schema come.

/// Declares tables of the file: each field once, with its meaning, its names
/// and what it holds. From that come its reading and its place in the schema.
macro_rules! tables {
    ($(
        $(#[doc = $doc:literal])*
        $table:ident $(<$param:ident>)? {
            required { $(
                $(#[doc = $rdoc:literal])*
                $rname:ident $(or $ralias:literal)* : $rtype:ty,
            )* }
            optional { $(
                $(#[doc = $odoc:literal])*
                $oname:ident $(or $oalias:literal)* : $otype:ty,
            )* }
        }
    )*) => { $(
        $(#[doc = $doc])*
        #[derive(Debug, Clone, PartialEq, Default, schemars::JsonSchema)]
        #[schemars(deny_unknown_fields)]
        pub struct $table $(<$param>)? {
            $( $(#[doc = $rdoc])* pub $rname: Entry<$rtype>, )*
            $( $(#[doc = $odoc])* #[schemars(default)] pub $oname: Entry<$otype>, )*
        }

        impl $(<$param: Field>)? $table $(<$param>)? {
            /// The table's names.
            pub const MEMBERS: &'static [Member] = &[
                $( Member {
                    name: stringify!($rname),
                    aliases: &[$($ralias),*],
                    doc: &[$($rdoc),*],
                    shape: <$rtype as Field>::SHAPE,
                }, )*
                $( Member {
                    name: stringify!($oname),
                    aliases: &[$($oalias),*],
                    doc: &[$($odoc),*],
                    shape: <$otype as Field>::SHAPE,
                }, )*
            ];
        }

        impl $(<$param: Field + Default>)? Field for $table $(<$param>)? {
            const SHAPE: Shape = Shape::Table(Self::MEMBERS);

            fn read(node: &Node, reading: &mut Reading) -> Option<Self> {
                let entries = reading.table(node)?;
                let mut table = Self::default();
                let mut meant = Vec::new();
                for (key, value) in entries {
                    let member = Self::MEMBERS.iter().find(|member| member.is_called(&key.name));
                    match member {
                        $( Some(member) if member.name == stringify!($rname) => {
                            reading.entry(&mut table.$rname, member, key, value);
                        } )*
                        $( Some(member) if member.name == stringify!($oname) => {
                            reading.entry(&mut table.$oname, member, key, value);
                        } )*
                        _ => meant.extend(reading.unknown(key, Self::MEMBERS)),
                    }
                }
                // A misspelt name is missing too, which need not be said twice.
                let missing = Self::MEMBERS.iter().filter(|member| {
                    let absent = false $( || member.name == stringify!($rname) && table.$rname.is_absent() )*;
                    absent && !meant.iter().any(|name| member.is_called(name))
                });
                missing.for_each(|member| reading.missing(node, member));
                Some(table)
            }
        }
    )* };
}
pub(in crate::job) use tables;
